#!/usr/bin/env bash
# Pictures of every page, 1280 and 390 pixels wide, light and dark, into artifacts/screenshots.
set -euo pipefail
cd "$(dirname "$0")/.."
export DESK_PICTURES=$PWD/artifacts/screenshots
rm -rf "$DESK_PICTURES"
dotnet test --project tests/ConsultDesk.Browser.Tests -c Release --filter-class ConsultDesk.Browser.Tests.PageTests --no-ansi --no-progress
ls "$DESK_PICTURES"
