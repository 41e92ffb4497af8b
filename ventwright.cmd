@echo off
rem Starts Ventwright from its source folder. Builds it first when there is no build yet or a source is newer than the build.
setlocal
set "HERE=%~dp0"
set "OUT=%HERE%out"

where dotnet >nul 2>nul
if errorlevel 1 (
  echo ventwright: the .NET 10 SDK is missing. Install it from https://dotnet.microsoft.com/download, then try again. 1>&2
  exit /b 1
)

if not exist "%OUT%\ventwright.dll" goto build
powershell -NoProfile -Command "$stamp = Get-Item -LiteralPath (Join-Path $env:OUT 'built.stamp') -ErrorAction SilentlyContinue; if (-not $stamp) { exit 1 }; $newer = @(Get-ChildItem -LiteralPath (Join-Path $env:HERE 'src') -Recurse -File -Include *.cs,*.razor,*.css,*.js,*.csproj,*.props,*.sql,*.yaml,*.json | Where-Object { $_.FullName -notmatch '\\(bin|obj)\\' }) + @(Get-ChildItem (Join-Path $env:HERE 'Directory.*.props')) | Where-Object { $_.LastWriteTimeUtc -gt $stamp.LastWriteTimeUtc }; if ($newer) { exit 1 }"
if not errorlevel 1 goto start

:build
echo building Ventwright (first use or sources changed) ... 1>&2
if not exist "%OUT%" mkdir "%OUT%"
type nul > "%OUT%\built.next"
pushd "%HERE%"
dotnet build src\Ventwright.Cli -c Release -v q -o "%OUT%" --disable-build-servers > "%OUT%\build.log" 2>&1
set "BUILT=%ERRORLEVEL%"
popd
if not "%BUILT%"=="0" (
  type "%OUT%\build.log" 1>&2
  echo ventwright: the build failed; its output is above. 1>&2
  exit /b 1
)
move /y "%OUT%\built.next" "%OUT%\built.stamp" >nul

:start
dotnet "%OUT%\ventwright.dll" %*
exit /b %ERRORLEVEL%
