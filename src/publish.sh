#!/bin/sh
# Builds the native executable `relist` for this machine into out/<platform>, without any warning.
# Needs a C linker: clang or gcc, and the zlib headers (Debian: apt-get install clang zlib1g-dev).
#
#   src/publish.sh                  native, for the machine it runs on
#   src/publish.sh linux-arm64      native, for another one (needs its linker: Debian gcc-aarch64-linux-gnu)
#   src/publish.sh win-x64 ready    ready-to-run with the runtime inside, where a native link can't be made here
set -eu
cd "$(dirname "$0")/.."

machine=$(uname -m)
case "$machine" in x86_64) machine=x64 ;; aarch64) machine=arm64 ;; esac
system=$(uname -s)
case "$system" in Linux) system=linux ;; Darwin) system=osx ;; esac
platform=${1:-$system-$machine}

if [ "${2:-native}" = ready ]; then
  kind="-p:PublishReadyToRun=true -p:PublishSingleFile=true --self-contained true"
else
  kind="-p:PublishAot=true -p:StripSymbols=true"
fi
# shellcheck disable=SC2086 # the flags are several words on purpose
dotnet publish src/AsmLsp -c Release -r "$platform" $kind -p:DebugType=none -p:CopyOutputSymbolsToPublishDirectory=false -p:GenerateDocumentationFile=false -o "out/$platform" -v q --nologo
ls -l "out/$platform"
