#!/usr/bin/env bash
# The same tests as tests/run.sh with big counts, and the benchmarks. Writes docs/measured/VERB.md.
#
#   tests/long.sh bench              speed of an assessment and its parts (BenchmarkDotNet), then edits
#   tests/long.sh moist-air          properties of moist air against psychrolib in Node and plain C#, the same states in the same run (needs npm)
#   tests/long.sh kernel [OPTIONS]   years of vans side by side against one alone, in processor time; growth; memory of so many options (10000); growth of a whole search
#   tests/long.sh sure               how sure an assessment is: processor time and seconds behind the live answer, and how the bands move with the number of samples
#   tests/long.sh edits [COUNT]      edits of the demo van in the workspace, from change to numbers on the screen (needs Node, Chromium) (200)
#   tests/long.sh searches [COUNT]   the same edits beside ten searches of designs asked for by four consultants (200)
#   tests/long.sh networks [COUNT]   random air networks, each balanced (100000)
#   tests/long.sh vans [COUNT [YEARS]]  random vans, each assessed and its balances closed, and some through whole years (20000, 20000)
#   tests/long.sh remedies [COUNT]   random vans, each remedy applied and judged anew (1000)
#   tests/long.sh layout [COUNT]     random plans set on both papers: no heading left behind, no row split (2000)
#   tests/long.sh fuzz [COUNT]       damaged texts, tables, numbers, forms and files, COUNT of most kinds, each read or refused with a reason (100000)
#   tests/long.sh kills [COUNT]      the desk, and the PostgreSQL server under it, killed at random moments of edits, publishing and uploads (200)
#   tests/long.sh clients [COUNT]    lists and search of a firm with so many clients and five times as many options (10000)
#   tests/long.sh load [SECONDS [SEARCHES]]  5, then 25 consultants editing at once while plans are read, searches work and idle tabs stand open; then until it
#                                    breaks (45, 10; needs Node, Chromium; six minutes on a quiet machine)
#   tests/long.sh unprivileged       the published program as "nobody" in a folder mounted for reading (needs root)
#   tests/long.sh pages              bytes, requests and first paint of the client's pages on a slow phone (needs Node, Chromium); of a
#                                    demo desk from source: a published program has no demo firm to sign in to, and shows its set-up page
#   tests/long.sh weather FOLDER     typical-year files in a folder against the numbers the made years are held against
#   tests/long.sh mutants FOLDER     mutation testing of Air, Airflow, Envelope or Moisture by the quick tests (needs jq); hours
set -euo pipefail
cd "$(dirname "$0")/.."

verb=${1:-}
measured=docs/measured
machine() { printf '%s, %s cores, .NET %s' "$(sed -n 's/^model name[^:]*: //p' /proc/cpuinfo | head -n 1)" "$(nproc)" "$(dotnet --version)"; }
commit() { printf '%s%s' "$(git rev-parse --short HEAD)" "$([ -z "$(git status --porcelain -- src tests)" ] || echo ' with changes not committed')"; }
head_of() { printf '# %s\n\nWritten by `tests/long.sh %s`.\n\n| | |\n| --- | --- |\n| date | %s |\n| commit | %s |\n| machine | %s |\n' "$1" "$verb" "$(date -u +%F)" "$(commit)" "$(machine)"; }

# count TITLE PROJECT CLASS VARIABLE COUNT SEED [PAGE]
count() {
  local title=$1 project=$2 class=$3 variable=$4 number=$5 seed=$6 page=${7:-$verb}
  dotnet build "tests/$project" -c Release -v q -nologo
  local log; log=$(mktemp)
  local code=0
  env "$variable=$number" "artifacts/bin/$project/release/$project" -class "$class" -showLiveOutput -noColor -noLogo 2>&1 | tee "$log" || code=$?
  # A filter that matches no test also ends with success.
  grep -Eq 'Total: [1-9]' "$log" || { echo "no test ran: is $class still there?" >&2; exit 1; }
  mkdir -p "$measured"
  {
    head_of "$title"
    printf '| result | %s |\n' "$([ "$code" = 0 ] && echo passed || echo '**failed**')"
    printf '| seed | %s |\n| count | %s (`%s`) |\n| test | `%s` |\n\n```\n' "$seed" "$number" "$variable" "$class"
    sed -E '/^ *$|^  (Disc|Start|Finish)|Stack Trace|^ {8,}(at|tests)/d; s/^ +//' "$log" | cut -c1-500
    printf '```\n'
  } >"$measured/$page.md"
  rm -f "$log"
  echo "wrote $measured/$page.md"
  return "$code"
}

case $verb in
  bench)
    dotnet build tests/ConsultDesk.Benchmarks -c Release -v q -nologo
    out=$(mktemp -d)
    dotnet artifacts/bin/ConsultDesk.Benchmarks/release/ConsultDesk.Benchmarks.dll --filter '*' --artifacts "$out"
    mkdir -p "$measured"
    {
      head_of 'Speed'
      printf '| job | short: 3 warm-ups, 3 iterations, in process; other work may have run on the machine |\n\n'
      sed -n '/^|/p' "$out"/results/*-github.md
    } >"$measured/bench.md"
    rm -rf "$out"
    echo "wrote $measured/bench.md"
    tests/long.sh edits
    ;;
  edits | searches)
    table=$(mktemp)
    what='From an edit to its numbers on the screen'
    beside=0
    if [ "$1" = searches ]; then
      what='An edit beside ten searches'
      beside=10
    fi
    tests/screenshots.sh --edits "${2:-200}" "$beside" >"$table"
    grep -q '^Asked for' "$table" || { echo "the edits were not made to the end" >&2; exit 1; }
    mkdir -p "$measured"
    {
      head_of "$what"
      printf '| where | the demo van in Chromium without a window, 1280 by 720, arrows running; server, browser and calculation share the machine |\n'
      [ "$beside" = 0 ] || printf '| beside it | %s searches of copies of a demo van, asked for by four consultants, of whom each may have three; their pages are closed |\n' "$beside"
      printf '| how | the time of a message is taken at the socket in the page; an edit every 150 to 450 ms, so that the year of the one before is often being calculated |\n\n'
      sed -n '/^| [0-9]* edits/,$p' "$table"
    } >"$measured/$1.md"
    rm -f "$table"
    echo "wrote $measured/$1.md"
    ;;
  kernel)
    dotnet build tests/ConsultDesk.Benchmarks -c Release -v q -nologo
    out=$(mktemp)
    dotnet artifacts/bin/ConsultDesk.Benchmarks/release/ConsultDesk.Benchmarks.dll kernel >"$out"
    echo >>"$out"
    dotnet artifacts/bin/ConsultDesk.Benchmarks/release/ConsultDesk.Benchmarks.dll memory "${2:-10000}" >>"$out"
    echo >>"$out"
    dotnet artifacts/bin/ConsultDesk.Benchmarks/release/ConsultDesk.Benchmarks.dll growth >>"$out"
    mkdir -p "$measured"
    {
      head_of 'Years side by side'
      printf '| load while measuring | %s |\n' "$(cut -d ' ' -f 1 /proc/loadavg)"
      printf '| how | the long preset and changes of it, weather at hand; processor time of the process, the widths in turn, least of several passes; operations counted |\n\n'
      cat "$out"
    } >"$measured/kernel.md"
    rm -f "$out"
    echo "wrote $measured/kernel.md"
    ;;
  sure)
    dotnet build tests/ConsultDesk.Benchmarks -c Release -v q -nologo
    out=$(mktemp)
    dotnet artifacts/bin/ConsultDesk.Benchmarks/release/ConsultDesk.Benchmarks.dll sure >"$out"
    mkdir -p "$measured"
    {
      head_of 'How sure, behind the live answer'
      printf '| load while measuring | %s |\n' "$(cut -d ' ' -f 1 /proc/loadavg)"
      printf '| how | least of three passes; the parts are measured apart, so they need not add up |\n\n'
      cat "$out"
    } >"$measured/sure.md"
    rm -f "$out"
    echo "wrote $measured/sure.md"
    ;;
  moist-air)
    dotnet build tests/ConsultDesk.Benchmarks -c Release -v q -nologo
    here=$PWD
    out=$(mktemp -d)
    # The package as published, into a folder that is thrown away: nothing of it is kept here.
    (cd "$out" && npm install --silent --no-fund --no-audit psychrolib@1.1.1 && node "$here/tests/reference/moist-air-speed.mjs" states.csv times.csv)
    dotnet artifacts/bin/ConsultDesk.Benchmarks/release/ConsultDesk.Benchmarks.dll moist-air "$out/states.csv" "$out/times.csv" >"$out/table"
    mkdir -p "$measured"
    {
      head_of 'Moist air: ours, psychrolib in Node, plain C#'
      printf '| psychrolib | npm 1.1.1, Node %s |\n' "$(node -v)"
      printf '| load while measuring | %s |\n' "$(cut -d ' ' -f 1 /proc/loadavg)"
      printf '| how | 10,000 random states, the same on all sides; processor time a call, least of nine passes of a tenth of a second; means agree within a thousandth or the page is not written; alone each call goes through a delegate, about 2 ns; our wet bulb is found to a billionth of a kelvin, those of the others to a thousandth |\n\n'
      cat "$out/table"
    } >"$measured/moist-air-speed.md"
    rm -rf "$out"
    echo "wrote $measured/moist-air-speed.md"
    ;;
  networks)
    count 'Random air networks' ConsultDesk.Calculations.Tests ConsultDesk.Calculations.Tests.Airflow.RandomNetworkTests AIR_NETWORKS "${2:-100000}" 'a fixed row, see RandomNetwork'
    ;;
  vans)
    RANDOM_YEARS=${3:-20000} count 'Random vans' ConsultDesk.Calculations.Tests 'ConsultDesk.Calculations.Tests.Simulation.Random*' RANDOM_VANS "${2:-20000}" \
      "fixed rows, see RandomVan; ${3:-20000} whole years (\`RANDOM_YEARS\`)"
    ;;
  remedies)
    count 'Remedies of random vans' ConsultDesk.Calculations.Tests ConsultDesk.Calculations.Tests.Findings.RemedyTests REMEDY_VANS "${2:-1000}" 'a fixed row, see RandomOption'
    ;;
  layout)
    count 'Plans on paper' ConsultDesk.Reports.Tests ConsultDesk.Reports.Tests.Pdf.RandomPlanTests RANDOM_PLANS "${2:-2000}" 'fixed, in the test'
    ;;
  fuzz)
    number=${2:-100000}
    few=$((number / 10))
    log=$(mktemp)
    code=0
    # tried PROJECT FILTER...: a run that hangs is ended after two hours and fails.
    tried() {
      local project=$1
      shift
      dotnet build "tests/$project" -c Release -v q -nologo
      env DAMAGED_DESIGNS="$number" DAMAGED_RECORDS="$number" DAMAGED_WEATHER="$number" DAMAGED_NUMBERS="$number" DAMAGED_SETTINGS="$number" \
        DAMAGED_FORMS="$number" DAMAGED_PLANS="$few" DAMAGED_ZIPS="$few" \
        timeout 7200 "artifacts/bin/$project/release/$project" "$@" -showLiveOutput -noColor -noLogo 2>&1 | tee -a "$log" || code=$?
    }
    tried ConsultDesk.Records.Tests -method '*.DamagedDesignTests.*' -method '*.DamagedRecordTests.*' -method '*.HandingOverTests.Damaged_*'
    tried ConsultDesk.Calculations.Tests -method '*.DamagedWeatherTests.*'
    tried ConsultDesk.Reports.Tests -method '*.DamagedTextTests.*'
    tried ConsultDesk.Web.Tests -method '*.DamagedFormTests.*'
    lines=$(sed -nE 's/^.*\[OUTPUT\] ([0-9]+ (damaged|typed|handed-in) .*)$/\1/p' "$log")
    [ -n "$lines" ] || { echo 'no test ran: are the classes still there?' >&2; exit 1; }
    mkdir -p "$measured"
    {
      head_of 'Damaged input'
      printf '| result | %s |\n' "$([ "$code" = 0 ] && echo passed || echo '**failed**')"
      printf '| inputs in all | %s |\n' "$(awk '{ n += $1 } END { print n }' <<<"$lines")"
      printf '| in every test run | 20,000 of each; 4,000 plans, which are long, 2,000 files of a client and 2,000 forms, which are written to a database |\n\n'
      printf 'Each is read or refused with its reason: no other exception, no endless loop, and memory within a bound by its size (of what is read in one thread).\n\n'
      sed 's/^/- /' <<<"$lines"
      grep -E '\[FAIL\]|Total: ' "$log" | sed -E 's/^ +/    /' || true
    } >"$measured/fuzz.md"
    rm -f "$log"
    echo "wrote $measured/fuzz.md"
    exit "$code"
    ;;
  weather)
    folder=$(realpath "${2:?a folder with the typical-year files of docs/method/climate.md}")
    dotnet build tests/ConsultDesk.Calculations.Tests -c Release -v q -nologo -p:StationFiles=true
    log=$(mktemp)
    CONSULTDESK_WEATHER=$folder artifacts/bin/ConsultDesk.Calculations.Tests/release/ConsultDesk.Calculations.Tests \
      -method '*.A_stations_file_has_*' -noColor -noLogo | tee "$log"
    # A filter that matches no test also ends with success, and so does a run of skips.
    grep -Eq 'Total: [1-9].*Failed: 0, Skipped: 0' "$log" || { echo 'not every file was read' >&2; exit 1; }
    rm -f "$log"
    ;;
  mutants)
    folder=${2:?Air, Airflow, Envelope or Moisture}
    out=$(mktemp -d)
    dotnet tool restore
    (
      cd tests/ConsultDesk.Mutants.Tests
      AIR_NETWORKS=${AIR_NETWORKS:-100} dotnet stryker -f stryker-config.json --project ConsultDesk.Calculations.csproj --test-runner mtp --mutate "**/$folder/*.cs" \
        --configuration Release --concurrency 1 --reporter json --reporter progress --skip-version-check --output "$out"
    )
    report=$(find "$out" -name '*.json' | head -n 1)
    page=$measured/mutants-$(tr '[:upper:]' '[:lower:]' <<<"$folder").md
    {
      head_of "Mutants of $folder"
      printf '| tool | dotnet-stryker %s, mtp runner |\n\n' "$(jq -r '.tools["dotnet-stryker"].version' .config/dotnet-tools.json)"
      tests/mutants-page.sh "$report" "$folder"
    } >"$page"
    echo "wrote $page"
    rm -rf "$out"
    ;;
  pages)
    table=$(mktemp)
    tests/screenshots.sh --client-pages >"$table"
    grep -q '^| ---' "$table" || { echo "no page was weighed" >&2; exit 1; }
    {
      head_of "What a client opens on a phone"
      printf '| line | 400 kbit/s down, 150 kbit/s up, 400 ms there and back; processor four times slower (Chromium, emulated) |\n'
      printf '| counted | median of 3 openings with an empty cache, over http on loopback, style sheets not packed as the published program has them; readable: the whole page is parsed |\n\n'
      cat "$table"
    } >"$measured/pages.md"
    rm -f "$table"
    echo "wrote $measured/pages.md"
    ;;
  kills)
    count 'Killed again and again' ConsultDesk.Web.Tests ConsultDesk.Web.Tests.Faults.KillTests DESK_KILLS "${2:-200}" 'printed below by each test; `DESK_KILL_SEED` sets it'
    ;;
  clients)
    count 'A firm with many clients' ConsultDesk.Records.Tests ConsultDesk.Records.Tests.ManyClientsTests DESK_MANY_CLIENTS "${2:-10000}" 'none'
    ;;
  load)
    table=$(mktemp)
    tests/load.sh "${@:2}" >"$table"
    # The last line: whatever fails before it ends the run without a page.
    grep -q '^From the start of the program' "$table" || { echo "the load was not borne to the end" >&2; exit 1; }
    mkdir -p "$measured"
    {
      head_of 'Many at once'
      printf '| where | one demo desk on SQLite over loopback; light circuits in one process of Node on the same processors: they keep the page, acknowledge and answer as a browser does, and draw nothing |\n'
      printf '| an edit | one of five controls set to another value, hardly ever a design calculated before; due at a random moment whether or not the one before is answered, timed from then to the numbers of its revision or a later one |\n'
      printf '| behind them | years and ranges after every edit, and the searches, %s asked for |\n\n' "${3:-10}"
      cat "$table"
    } >"$measured/load.md"
    rm -f "$table"
    echo "wrote $measured/load.md"
    ;;
  unprivileged)
    [ "$(id -u)" = 0 ] || { echo "needs root, to become nobody and to mount" >&2; exit 1; }
    work=$(mktemp -d)
    chmod 755 "$work"
    desk=''
    clean_up() {
      [ -z "$desk" ] || kill "$desk" 2>/dev/null || true
      ! mountpoint -q "$work/program" || umount --lazy "$work/program"
      rm -rf "$work"
    }
    trap clean_up EXIT
    dotnet publish src/ConsultDesk.Web -c Release -o "$work/program" -v q -nologo
    mount --bind "$work/program" "$work/program"
    mount -o remount,ro,bind "$work/program"
    install -d -o nobody -m 700 "$work/data"
    port=$((20000 + RANDOM % 20000))
    address=http://127.0.0.1:$port
    as_nobody() { (cd "$work/program" && exec runuser -u nobody -- env -i PATH="$PATH" DOTNET_EnableDiagnostics=0 ASPNETCORE_ENVIRONMENT=Production "$@"); }
    # As behind the proxy of docs/operating.md, which ends https.
    as_nobody dotnet ConsultDesk.Web.dll --Data:Directory="$work/data" --Desk:Demo=true --FORWARDEDHEADERS_ENABLED=true --Backup:Directory="$work/data/backups" --Logging:Console:FormatterName=json --Logging:LogLevel:Default=Information --urls "$address" >"$work/log" 2>&1 &
    desk=$!
    for _ in $(seq 1 240); do curl -fs "$address/health/ready" >"$work/ready" && break; kill -0 "$desk" || { cat "$work/log"; exit 1; }; sleep 0.5; done
    curl -fs -H 'X-Forwarded-Proto: https' "$address/sign-in" | grep -q 'Sign in' || { cat "$work/log"; exit 1; }
    for _ in $(seq 1 120); do ls "$work"/data/backups/desk-*.db >/dev/null 2>&1 && break; sleep 0.5; done
    as_nobody dotnet ConsultDesk.Web.dll --Data:Directory="$work/data" --backup "$work/data/now.db"
    as_nobody sh -c 'touch here 2>/dev/null' && { echo "the program's folder can be written" >&2; exit 1; }
    grep -c '^{' "$work/log" >"$work/json" || { echo "no line of the log is JSON" >&2; exit 1; }
    # The desk itself: what stands around it has exit codes of its own.
    pkill -TERM -u nobody -f "data:directory=$work/data" -i
    code=0; wait "$desk" || code=$?
    desk=''
    mkdir -p "$measured"
    {
      head_of 'Published, as nobody, in a folder that cannot be written'
      printf '| ready | %s |\n| back-up by itself | %s |\n| back-up by hand, beside it | %s bytes |\n| lines of the log that are JSON | %s |\n| exit code after SIGTERM | %s |\n' \
        "$(tr '\n' ';' <"$work/ready" | sed 's/;$//; s/;/; /g')" "$(basename "$work"/data/backups/desk-*.db)" "$(stat -c %s "$work/data/now.db")" "$(cat "$work/json")" "$code"
    } >"$measured/unprivileged.md"
    cat "$measured/unprivileged.md"
    ;;
  recovery | exhaustive)
    echo "tests/long.sh $verb does not exist yet" >&2
    exit 3
    ;;
  *)
    sed -n '2,/^set /{/^#/s/^# \{0,1\}//p}' "$0" >&2
    exit 2
    ;;
esac
