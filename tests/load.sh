#!/usr/bin/env bash
# A demo desk with many at it, for tests/long.sh load: starts it, loads it with light circuits, prints the page. Needs Node with npm, and Chromium for one page of comparison.
#   tests/load.sh [SECONDS [SEARCHES]]   each of the two rounds so long (45), with so many searches asked for before (10)
set -euo pipefail
cd "$(dirname "$0")/.."
root=$PWD

tools=$root/artifacts/load-tools
mkdir -p "$tools"
cp tests/load/*.mjs tests/load/package.json tests/load/package-lock.json tests/screenshots/probe.mjs "$tools/"
(cd "$tools" && npm ci --no-audit --no-fund --silent)
dotnet tool restore >&2

data=$(mktemp -d)
address=http://localhost:${PORT:-5088}
[ "${BUILD:-yes}" = no ] || dotnet build src/ConsultDesk.Web -c Release -v q -nologo >&2
start() {
  # Without the process of "dotnet run" around it, which would be measured instead; behind a proxy, so that each reader has an address.
  (cd src/ConsultDesk.Web && ASPNETCORE_ENVIRONMENT=Development ASPNETCORE_FORWARDEDHEADERS_ENABLED=true Data__Directory=$data \
    exec dotnet "$root/artifacts/bin/ConsultDesk.Web/release/ConsultDesk.Web.dll" --urls "$address" >"$data/desk.log" 2>&1) &
  desk=$!
}
start
trap 'kill $desk 2>/dev/null || true; wait $desk 2>/dev/null || true; rm -rf "$data"' EXIT
for _ in $(seq 1 240); do
  curl -fs "$address/sign-in" >/dev/null && break
  kill -0 $desk 2>/dev/null || { cat "$data/desk.log"; exit 1; }
  sleep 1
done

LOAD_FOLDER=$data node "$tools/load.mjs" "$address" "$desk" "${2:-10}" "${1:-45}"
if grep -E '^(fail|crit): ' -A 5 "$data/desk.log" >&2; then
  echo 'the desk has logged errors' >&2
  exit 1
fi

took=()
for _ in 1 2 3 4 5; do
  kill "$desk"; wait "$desk" 2>/dev/null || true
  began=$(date +%s%N)
  start
  until curl -fs "$address/sign-in" >/dev/null; do kill -0 "$desk" || { cat "$data/desk.log"; exit 1; }; sleep 0.02; done
  took+=($((($(date +%s%N) - began) / 1000000)))
done
printf '\nFrom the start of the program to its first page, five times: %s ms. Asked for: under 3000.\n' "$(IFS=,; echo "${took[*]}" | sed 's/,/, /g')"
