#!/bin/sh
# Renders the scenes one after the other, skipping those that exist:  render-all.sh LAB OUT SCENE...
lab=$1
out=$2
shift 2
for scene in "$@"; do
  [ -e "$out/$scene/shot.cam.json" ] && continue
  start=$(date +%s)
  nice -n 10 blender -b -P "$lab/render.py" -- "$out/$scene/scene.json" "$out/$scene/shot" >"$out/$scene/render.log" 2>&1
  echo "$scene $(($(date +%s) - start)) s"
done
