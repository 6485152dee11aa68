#!/bin/sh
# Adds one migration to both stores: migrations/add.sh AddSomething
set -eu
[ $# -eq 1 ] || { echo "usage: migrations/add.sh NAME" >&2; exit 2; }
cd "$(dirname "$0")/.."
dotnet tool restore
for store in Sqlite Postgres; do
  project="migrations/ConsultDesk.Migrations.$store"
  dotnet build "$project" -v q
  dotnet ef migrations add "$1" --project "$project" --startup-project "$project" --output-dir Migrations --no-build
done
