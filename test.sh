#!/usr/bin/env bash
# Builds everything, checks the format, runs all tests. The last line says how many passed and failed.
# Usage: ./test.sh [--no-format]
set -euo pipefail

cd "$(dirname "$(readlink -f "${BASH_SOURCE[0]}")")"
export DOTNET_NOLOGO=1 DOTNET_CLI_TELEMETRY_OPTOUT=1

check_format=yes
for argument in "$@"; do
  case $argument in
    --no-format) check_format=no ;;
    *) echo "test.sh: unknown argument '$argument'. Usage: ./test.sh [--no-format]" >&2; exit 2 ;;
  esac
done

fail() {
  echo "test.sh: $1" >&2
  exit 1
}

has_scipy() { command -v "$1" > /dev/null && "$1" -c 'import scipy' 2> /dev/null; }

# Another Python may stand before the system's in PATH; the package goes into the system's.
prefer_python_with_scipy() {
  if ! has_scipy python3 && has_scipy /usr/bin/python3; then export PATH=/usr/bin:$PATH; fi
  has_scipy python3
}

has_font() { fc-list 2> /dev/null | grep -iE 'LiberationSans-|DejaVuSans\.' > /dev/null; }

# The Modbus server of the rig's tests runs with the system's Python, the Firmata board with Node.js.
has_pymodbus() { /usr/bin/python3 -c 'import pymodbus, serial_asyncio' 2> /dev/null; }

install_missing() {
  local missing=() root=()
  command -v ngspice > /dev/null || missing+=(ngspice)
  prefer_python_with_scipy || missing+=(python3-scipy)
  has_font || missing+=(fontconfig fonts-liberation)
  command -v chromium > /dev/null || command -v chromium-browser > /dev/null || command -v google-chrome > /dev/null || missing+=(chromium)
  command -v socat > /dev/null || missing+=(socat)
  has_pymodbus || missing+=(python3-pymodbus python3-serial-asyncio)
  command -v node > /dev/null || missing+=(nodejs)
  command -v npm > /dev/null || missing+=(npm)
  [[ ${#missing[@]} -gt 0 ]] || return 0

  [[ $(id -u) -eq 0 ]] || root=(sudo)
  if ! command -v apt-get > /dev/null || ! command -v "${root[0]:-true}" > /dev/null; then
    fail "reference programs or fonts are missing: ${missing[*]}. Install them (Debian, Ubuntu: apt-get install ${missing[*]}), then try again."
  fi
  echo "installing ${missing[*]} ..."
  "${root[@]}" apt-get update -qq
  "${root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${missing[@]}" \
    || fail "apt-get could not install ${missing[*]}. Install them by hand, then try again."
  prefer_python_with_scipy || fail "python3-scipy is installed, but no python3 finds it."
}

# The firmware of the Firmata board and the simulated chip that it runs on are npm packages; they are not kept here.
install_board() {
  local peers=tests/Ventwright.Rig.Tests/Peers
  [[ -d $peers/node_modules/node-pixel && -d $peers/node_modules/avr8js ]] && return 0
  echo "installing the Firmata board of the tests ..."
  npm install --prefix "$peers" --ignore-scripts --no-audit --no-fund --no-package-lock --omit=peer --silent \
    || fail "npm could not install what $peers/package.json names."
}

command -v dotnet > /dev/null || fail "the .NET 10 SDK is missing. Install it from https://dotnet.microsoft.com/download, then try again."
install_missing
install_board

dotnet build Ventwright.slnx -c Release -v q || fail "the build failed; nothing was tested."

code=0
if [[ $check_format == yes ]]; then
  # Style and analyzers have failed the build already where anything is wrong; what is left of the format are blanks and line ends.
  dotnet format whitespace . --folder --exclude '**/bin/' '**/obj/' --verify-no-changes || { code=1; echo "test.sh: run 'dotnet format' and look at what it changed." >&2; }
fi

results=TestResults
rm -rf "$results"
hung=0
for project in tests/*/*.csproj; do
  name=$(basename "$project" .csproj)
  # Exit code 8 is "no tests were run": one project may be empty, all of them together may not. Where no test has ended for ten minutes, those under way are
  # named and the project is given up; the last resort is for a program that does not even end then.
  timeout --kill-after=1m 40m dotnet test --project "$project" -c Release --no-build --results-directory "$results/$name" \
    --report-trx --report-trx-filename "$name.trx" --ignore-exit-code 8 --hangdump --hangdump-type None --hangdump-timeout 10m \
    || { code=$?; echo "test.sh: $name failed." >&2; }
  for log in "$results/$name"/*_hang.log; do
    [[ -f $log ]] || continue
    echo "test.sh: $name hung; these tests were under way:" >&2
    cat "$log" >&2
    hung=$((hung + $(grep -c . "$log" || true)))
  done
done

# Adds up one counter over all report files.
count() {
  find "$results" -name '*.trx' -exec grep -ohE '<Counters [^>]*>' {} + | grep -oE " $1=\"[0-9]+\"" | grep -oE '[0-9]+' \
    | awk '{ n += $1 } END { print n + 0 }'
}

passed=$(count passed || true)
failed=$(($(count '(failed|error|timeout|aborted)' || true) + hung))
skipped=$(count notExecuted || true)
if [[ $((passed + failed)) -eq 0 ]]; then
  echo "test.sh: no test was run." >&2
  [[ $code -ne 0 ]] || code=1
fi
if [[ $failed -gt 0 && $code -eq 0 ]]; then code=1; fi

summary="$passed passed, $failed failed"
if [[ $skipped -gt 0 ]]; then summary+=", $skipped skipped"; fi
echo "$summary"
exit "$code"
