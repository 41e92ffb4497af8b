#!/usr/bin/env bash
# Measures in a real browser how long the bench page takes after a reading. Needs Chromium; the machine should be idle. Usage: bench/response.sh
set -euo pipefail
cd "$(dirname "$(readlink -f "${BASH_SOURCE[0]}")")/.."
dotnet build tests/Ventwright.Web.Tests -c Release -v q
dotnet run -c Release --no-build --project tests/Ventwright.Web.Tests -- -explicit only -class '*ResponseTimes' -showliveoutput
