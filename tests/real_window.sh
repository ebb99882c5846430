#!/usr/bin/env bash
# The real window under a virtual display, with real key and mouse events.
#
#   tests/real_window.sh PATH-OF-seatwell [FOLDER-FOR-PICTURES]
#
# Checks that the window opens on the demo job, that something is drawn, that a
# figure typed into a field marks the job as changed, that undo takes the mark
# away, and that the window closes by itself when asked.
set -euo pipefail

program=$(realpath "$1")
pictures=${2:-$(mktemp -d)}
mkdir -p "$pictures"
export LIBGL_ALWAYS_SOFTWARE=1
unset WAYLAND_DISPLAY WAYLAND_SOCKET
home=$(mktemp -d)
export HOME=$home XDG_CONFIG_HOME=$home/config XDG_DATA_HOME=$home/data XDG_RUNTIME_DIR=$home

# The server takes a free display and writes its number once it answers.
Xvfb -displayfd 3 -screen 0 1280x800x24 +extension GLX 3>"$home/display" >"$home/server.log" 2>&1 &
server=$!
window=
trap 'kill $window $server 2>/dev/null || true' EXIT
for _ in $(seq 300); do [[ -s $home/display ]] && break; sleep 0.1; done
[[ -s $home/display ]] || { echo "real window: the virtual display does not start" >&2; cat "$home/server.log" >&2; exit 1; }
export DISPLAY=:$(<"$home/display")
for _ in $(seq 100); do xdpyinfo >/dev/null 2>&1 && break; sleep 0.1; done
xdpyinfo >/dev/null || { echo "real window: the virtual display does not answer" >&2; cat "$home/server.log" >&2; exit 1; }

"$program" &
window=$!

fail() { echo "real window: $1" >&2; import -window root "$pictures/failed.png" || true; exit 1; }
title() { xdotool getwindowname "$id" 2>/dev/null || true; }
wait_title() { # wait_title PATTERN WHAT
    for _ in $(seq 100); do [[ $(title) == $1 ]] && return; sleep 0.1; done
    fail "$2 (title: '$(title)')"
}

id=
for _ in $(seq 150); do
    id=$(xdotool search --onlyvisible --name 'Seatwell' 2>/dev/null | head -n 1) && [[ -n $id ]] && break
    kill -0 $window 2>/dev/null || fail "the program ended before its window opened"
    sleep 0.1
done
[[ -n $id ]] || fail "no window opened"
xdotool windowmove "$id" 0 0 windowsize "$id" 1280 800 windowfocus "$id" || true
wait_title '*Brackenmoor*' "the window does not show the demo job"
sleep 1.5
import -window root "$pictures/opened.png"
tones=$(identify -format '%k' "$pictures/opened.png")
(( tones > 50 )) || fail "hardly anything is drawn ($tones tones)"
echo "real window: opened, $tones tones"

# The opening's width is the first field of the card.
xdotool mousemove --sync 180 466 click 1
sleep 0.5
xdotool key --clearmodifiers ctrl+a
xdotool type --delay 40 '183 '
xdotool key Return
wait_title '\* *' "a figure typed into a field does not mark the job as changed"
sleep 0.5
import -window root "$pictures/typed.png"
echo "real window: a typed figure changes the job"

xdotool mousemove --sync 640 60 click 1 # out of the field
sleep 0.3
xdotool key --clearmodifiers ctrl+z
wait_title 'Brackenmoor*' "undo does not bring the first job back"
echo "real window: undo brings it back"

# The wheel zooms at the pointer; the picture changes.
import -window root "$pictures/before-zoom.png"
xdotool mousemove --sync 1000 300 click --repeat 3 4
sleep 1
import -window root "$pictures/zoomed.png"
changed=$(compare -metric AE "$pictures/before-zoom.png" "$pictures/zoomed.png" null: 2>&1 || true)
[[ ${changed%%.*} -gt 1000 ]] || fail "the wheel does not zoom ($changed pixels changed)"
echo "real window: the wheel zooms"

xdotool key --clearmodifiers ctrl+q
for _ in $(seq 50); do kill -0 $window 2>/dev/null || break; sleep 0.1; done
if kill -0 $window 2>/dev/null; then fail "it does not close when asked"; fi
wait $window || fail "it ended with an error"
echo "real window: closed"
echo "4 passed, 0 failed"
