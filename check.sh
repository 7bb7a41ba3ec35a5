#!/usr/bin/env bash
# The same set-up as start.sh, then every test, checked by the address and undefined-behaviour sanitizers, built by a
# second compiler file by file; tests of the whole program also as people run it; the program without the screen. Every
# warning of both compilers is an error. Every header alone, the layout of the code and clang-tidy over what has changed
# lately. The last lines are the summary of all of them.
# --long: every test in both builds, all rounds of the longest; the whole build without the screen; clang-tidy over
# everything; two thousand random scenes on uneven ground after that, their counts last.
if [ $# -gt 1 ] || { [ $# = 1 ] && [ "$1" != --long ]; }; then
  echo "check.sh: takes nothing, or --long" >&2
  exit 2
fi
source "$(dirname "${BASH_SOURCE[0]}")/.ci/set_up"
install_missing
cmake --preset release -DSIDEHILL_WARNINGS_ARE_ERRORS=ON >/dev/null
if [ "${1:-}" = --long ]; then
  build release
else
  build release sidehill sidehill_twice_tests sidehill_bench
fi
build debug
cmake --preset headless >/dev/null  # needs nothing of a screen; its program is made beside the checked one
if [ "${1:-}" = --long ]; then build headless sidehill; fi
build lint

# One ctest over the tests of all three, for one summary at the end.
mkdir -p build/all
printf 'subdirs("%s/build/release/tests" "%s/build/debug/tests")\n' "$PWD" "$PWD" >build/all/CTestTestfile.cmake
printf 'subdirs("%s/build/lint/tests/lint")\n' "$PWD" >>build/all/CTestTestfile.cmake
if [ "${1:-}" = --long ]; then grep no_screen build/headless/tests/CTestTestfile.cmake >>build/all/CTestTestfile.cmake; fi
which=(--label-exclude '^once$')
if [ "${1:-}" = --long ]; then
  which=()
  export SIDEHILL_TIDY=all SIDEHILL_LONG=1
fi
ctest --test-dir build/all --output-on-failure --parallel "$(nproc)" "${which[@]}"
if [ "${1:-}" = --long ]; then
  build/release/tests/sidehill_uneven
fi
