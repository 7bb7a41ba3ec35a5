#!/usr/bin/env bash
# Installs what is missing, builds, opens the default scene. Without a display it answers the scene in the terminal and
# writes its picture: build/first_slope.txt, build/first_slope.png.
source "$(dirname "${BASH_SOURCE[0]}")/.ci/set_up"
install_missing
build release sidehill
program=build/release/sidehill
scene=scenes/first_slope.toml
if [ -n "${DISPLAY:-}${WAYLAND_DISPLAY:-}" ]; then
  exec "$program" view "$scene" "$@"
fi
echo "No display: here is the answer, and a picture in place of the window."
"$program" solve "$scene" "$@" | tee build/first_slope.txt.part
mv build/first_slope.txt.part build/first_slope.txt
"$program" picture "$scene" build/first_slope.png --force "$@"
