#!/usr/bin/env bash
# Takes the pictures of this guide from the real app, into docs/guide/pictures. Needs Chromium. Usage: docs/guide/pictures.sh [FOLDER]
set -euo pipefail
cd "$(dirname "$(readlink -f "${BASH_SOURCE[0]}")")/../.."
folder=$(readlink -m "${1:-docs/guide/pictures}")
dotnet build tests/Ventwright.Web.Tests -v q
VENTWRIGHT_PICTURES=$folder dotnet run --no-build --project tests/Ventwright.Web.Tests -- -explicit only -class '*GuidePictures'
