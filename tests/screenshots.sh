#!/usr/bin/env bash
# Pictures of every screen of a running demo desk, at three widths, light and dark, into artifacts/screenshots; says which
# screens scroll sideways. Needs Chromium, and Node with npm for the one package that drives it.
#   tests/screenshots.sh                 everything
#   tests/screenshots.sh workspace plan  only screens whose names begin so
#   tests/screenshots.sh --pictures      the few that README and guide show, into docs/pictures
#   tests/screenshots.sh --edits         no pictures: edits in the workspace, for tests/long.sh edits
#   tests/screenshots.sh --client-pages  no pictures: bytes and first paint of what a client opens, for tests/long.sh pages
set -euo pipefail
cd "$(dirname "$0")/.."
root=$PWD
pictures=no
case ${1:-} in
  --pictures) pictures=yes; shift ;;
  --client-pages) pictures=weigh; shift ;;
  --edits) pictures=edits; shift ;;
esac
folder=$root/artifacts/screenshots
[ $# -gt 0 ] || rm -rf "$folder"
mkdir -p "$folder"

tools=$root/artifacts/screenshot-tools
mkdir -p "$tools"
cp tests/screenshots/*.mjs tests/screenshots/package.json tests/screenshots/package-lock.json "$tools/"
(cd "$tools" && npm ci --no-audit --no-fund --silent)

data=$(mktemp -d)
address=http://localhost:${PORT:-5087}
[ "${BUILD:-yes}" = no ] || dotnet build src/ConsultDesk.Web -c Release -v q -nologo >&2
Data__Directory=$data dotnet run --no-build -c Release --project src/ConsultDesk.Web --urls "$address" > "$data/desk.log" 2>&1 &
desk=$!
trap 'kill $desk 2>/dev/null || true; wait $desk 2>/dev/null || true; rm -rf "$data"' EXIT
for _ in $(seq 1 240); do
  curl -fs "$address/sign-in" > /dev/null && break
  kill -0 $desk 2>/dev/null || { cat "$data/desk.log"; exit 1; }
  sleep 1
done

if [ $pictures = yes ]; then
  node "$tools/pictures.mjs" "$address" "$root/docs/pictures"
  node "$tools/smaller.mjs" "$root"/docs/pictures/*.png
elif [ $pictures = edits ]; then
  node "$tools/edits.mjs" "$address" "${1:-200}" "${2:-0}"
elif [ $pictures = weigh ]; then
  node "$tools/client-pages.mjs" "$address" "$desk"
else
  node "$tools/take.mjs" "$address" "$folder" "$@"
fi
