#!/usr/bin/env bash
# Builds, checks and tests everything, from a clean checkout or a used one. CI runs this same script.
#
#   tests/run.sh            restore, build, format check, all tests on SQLite and PostgreSQL, browser journey
#   tests/run.sh --accept   the same, and rewrites docs/validation.md from the calculations
#
# With CI=true nothing may be skipped: a missing Chromium or PostgreSQL fails. Elsewhere it is a visible skip.
set -euo pipefail
cd "$(dirname "$0")/.."

case ${1:-} in
  '') ;;
  --accept) export ACCEPT_VALIDATION=1 ;;
  *) echo "usage: tests/run.sh [--accept]" >&2; exit 2 ;;
esac

export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1
# Build nodes that outlive the run would be left behind as somebody else's processes.
export MSBUILDDISABLENODEREUSE=1

work=$(mktemp -d "${TMPDIR:-/tmp}/desk-run.XXXXXX")
chmod 755 "$work"
postgres_data=''
as_postgres() { if [ "$(id -u)" = 0 ]; then (cd / && runuser -u postgres -- "$@"); else "$@"; fi; }
clean_up() {
  code=$?
  trap - EXIT
  if [ -n "$postgres_data" ]; then
    as_postgres "$postgres_bin/pg_ctl" -D "$postgres_data" -m immediate -w stop >/dev/null 2>&1 || true
  fi
  rm -rf "$work"
  exit "$code"
}
trap clean_up EXIT
trap 'exit 130' INT
trap 'exit 143' TERM

step() { printf '\n== %s (%d s)\n' "$1" "$SECONDS"; }
find_postgres() { ls -d /usr/lib/postgresql/*/bin 2>/dev/null | sort -V | tail -n 1 || true; }

step 'What the tests need'
missing=()
command -v chromium >/dev/null || missing+=(chromium)
[ -x "$(find_postgres)/initdb" ] || missing+=(postgresql)
command -v pdftotext >/dev/null || missing+=(poppler-utils)
command -v qpdf >/dev/null || missing+=(qpdf)
[ -d /usr/share/fonts/truetype/dejavu ] || missing+=(fonts-dejavu-core)
if [ ${#missing[@]} -gt 0 ]; then
  if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null; then
    echo "installing ${missing[*]}"
    # A cluster that Debian starts by itself would hold port 5432 and outlive the run.
    mkdir -p /etc/postgresql-common
    [ -e /etc/postgresql-common/createcluster.conf ] || echo 'create_main_cluster = false' >/etc/postgresql-common/createcluster.conf
    export DEBIAN_FRONTEND=noninteractive
    { apt-get -qq update && apt-get -qq install -y --no-install-recommends "${missing[@]}"; } </dev/null >"$work/apt.log" 2>&1 ||
      { tail -n 20 "$work/apt.log"; echo "apt-get failed; what is missing will be skipped, or fail with CI=true"; }
  else
    echo "missing: ${missing[*]} (not root, or no apt-get: tests that need them are skipped)"
  fi
fi
tree_before=$(git status --porcelain 2>/dev/null || true)

step 'Restore, locked'
dotnet restore ConsultDesk.sln --locked-mode -v q

step 'Bill of materials'
# What the restore resolved, in an open format; a test holds it against the locks.
dotnet tool restore >"$work/tools.log" || { cat "$work/tools.log"; exit 1; }
dotnet CycloneDX ConsultDesk.sln --output "$PWD/artifacts/bill" --output-format Json --set-name ConsultDesk --disable-package-restore >"$work/bill.log" ||
  { cat "$work/bill.log"; exit 1; }
export DESK_TEST_BILL=$PWD/artifacts/bill/bom.json

step 'Build, Release'
dotnet build ConsultDesk.sln -c Release --no-restore -v q -nologo

step 'Format'
dotnet format ConsultDesk.sln --verify-no-changes --no-restore

step 'PostgreSQL'
if [ -n "${DESK_TEST_POSTGRES:-}" ]; then
  echo 'using the server that DESK_TEST_POSTGRES names'
else
  postgres_bin=$(find_postgres)
  if [ -x "$postgres_bin/initdb" ]; then
    mkdir "$work/postgres"
    [ "$(id -u)" != 0 ] || chown postgres "$work/postgres"
    as_postgres "$postgres_bin/initdb" -D "$work/postgres/data" -U postgres -A trust -E UTF8 --locale=C.UTF-8 --no-sync >"$work/initdb.log" 2>&1 ||
      { cat "$work/initdb.log"; exit 1; }
    # Another program can take a port between the look and the start, so a failed start tries the next one.
    for _ in 1 2 3 4 5; do
      port=$((20000 + RANDOM % 20000))
      if (exec 3<>"/dev/tcp/127.0.0.1/$port") 2>/dev/null; then continue; fi
      # The data lives for one run: durability would only cost time.
      if as_postgres "$postgres_bin/pg_ctl" -D "$work/postgres/data" -l "$work/postgres/log" -w -t 30 \
        -o "-p $port -c listen_addresses=127.0.0.1 -c unix_socket_directories=$work/postgres -c fsync=off -c max_connections=200" \
        start >/dev/null 2>&1; then
        postgres_data=$work/postgres/data
        break
      fi
    done
    [ -n "$postgres_data" ] || { cat "$work/postgres/log"; exit 1; }
    export DESK_TEST_POSTGRES="Host=127.0.0.1;Port=$port;Username=postgres;Database=postgres"
    echo "$("$postgres_bin/postgres" --version), port $port"
  else
    echo 'no PostgreSQL here: its tests are skipped (with CI=true they fail)'
  fi
fi

step 'Tests'
# "dotnet test" prints Passed! even when a project did not build; only its exit code counts. A project that ran no
# test fails too: it has lost them.
set +e
timeout --kill-after=30 45m dotnet test --solution ConsultDesk.sln -c Release --no-build \
  --max-parallel-test-modules 1 --no-progress --no-ansi </dev/null 2>&1 | tee "$work/tests.log"
code=${PIPESTATUS[0]}
set -e

closing=$(awk '/^Test run summary/{s=1} s&&/^  failed:/{f=$2} s&&/^  succeeded:/{p=$2} s&&/^  skipped:/{k=$2} END{if(s)printf "%d passed, %d failed, %d skipped\n",p,f,k}' "$work/tests.log")
read -r passed _ failed _ skipped _ <<<"${closing:-0 - 0 - 0 -}"
# What another test starts in a process of its own, to kill it, is listed as skipped: in this run it is no test.
explicit=$(grep -c 'Not run (due to explicit test filtering)' "$work/tests.log" || true)
skipped=$((skipped - explicit))
closing="$passed passed, $failed failed, $skipped skipped"
fail() { echo "FAILED: $1"; [ "$code" != 0 ] || code=1; }

step 'Result'
[ "$code" = 0 ] || echo "dotnet test ended with exit code $code"
[ $((passed + failed)) -gt 0 ] || fail 'no test was run'
if [ "${CI:-}" = true ] && [ "$skipped" -gt 0 ]; then fail "$skipped skipped, and with CI=true nothing may be skipped"; fi
if [ -z "${ACCEPT_VALIDATION:-}" ] && [ "$(git status --porcelain 2>/dev/null || true)" != "$tree_before" ]; then
  git status --short
  fail 'the run changed the work tree'
fi
# Named again here: between a test's own lines and these, a failing project prints all its programs wrote.
grep '^failed ' "$work/tests.log" || true
echo "$closing"
exit "$code"
