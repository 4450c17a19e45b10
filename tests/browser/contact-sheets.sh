#!/bin/sh
# Pictures of a guide at phone, tablet and A4 size, in light, dark and grey, to be looked at by a person.
# Usage: contact-sheets.sh GUIDE.html FOLDER. Needs chromium, pdftoppm (poppler-utils).
set -eu
page=$(realpath "$1")
mkdir -p "$2"
folder=$(realpath "$2")
run() {
  profile=$(mktemp -d)
  chromium --headless --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking \
    --disable-component-update --disable-sync --hide-scrollbars --user-data-dir="$profile" "$@" "file://$page" >/dev/null 2>&1
  rm -rf "$profile"
}
for size in phone:390,844 tablet:820,1180; do
  name=${size%%:*}
  window=${size##*:}
  for light in light:1 dark:0; do
    run --blink-settings=preferredColorScheme="${light##*:}" --window-size="${window%%,*},${LENGTH_PX:-9000}" \
      --screenshot="$folder/$name-${light%%:*}.png"
  done
done
run --print-to-pdf="$folder/paper.pdf" --no-pdf-header-footer
pdftoppm -r 70 -png "$folder/paper.pdf" "$folder/paper"
pdftoppm -r 70 -gray -png "$folder/paper.pdf" "$folder/grey"
