#!/usr/bin/env bash
# The tables of docs/measured/mutants-FOLDER.md from stryker's report.
#
#   tests/mutants-page.sh REPORT.json FOLDER
#
# Three kinds of mutants are told apart. "Texts" change the words of a message. "Once" change what is worked out once when the program
# starts (static members): this runner keeps the program running, so no test can notice them, whatever it asserts. The rest can be tried.
set -euo pipefail
report=${1:?report}
folder=${2:?folder}
jq -r --arg folder "/$folder/" '
  def n(s): map(select(.status == s)) | length;
  def tried: map(select(.status == "Killed" or .status == "Timeout" or .status == "Survived" or .status == "NoCoverage"));
  def text: .mutatorName == "String mutation";
  def once: (.static == true) and ((.coveredBy // []) | length) == 0 and .status != "Killed" and .status != "Timeout";
  def percent(part; whole): if whole == 0 then "-" else "\(100 * part / whole | round) %" end;
  def dead: n("Killed") + n("Timeout");
  def row(name): tried as $all | ($all | map(select(text or once | not))) as $rest | select($all | length > 0)
    | "| \(name) | \($all | length) | \($all | dead) | \($all | n("Timeout")) | \(percent($all | dead; $all | length)) | \($all | map(select(text)) | length) | \($all | map(select(once and (text | not))) | length) | \($rest | length) | \($rest | dead) | \($rest | n("NoCoverage")) | \(percent($rest | dead; $rest | length)) |";
  ([.files | to_entries[] | select(.key | contains($folder))]) as $files
  | "| file | mutants | killed | time | share | texts | once | rest | killed | not covered | share of the rest |",
    "| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |",
    ($files[] | .key as $k | .value.mutants | row($k | split("/") | last)), ([$files[].value.mutants[]] | row("**all**")),
    "", "## Survivors of the rest", "",
    ($files[] | (.key | split("/") | last) as $file | .value.mutants[] | select((.status == "Survived" or .status == "NoCoverage") and (text or once | not))
      | "- \($file):\(.location.start.line) \(.status): \(.mutatorName): `\(.replacement | gsub("\\s+"; " ") | .[0:120])`")' "$report"
