#!/usr/bin/env bash
# The real window under a virtual display, with real key and mouse events.
#
#   tests/real_window.sh PATH-OF-seatwell [FOLDER-FOR-PICTURES]
#
# Checks that the window opens on the demo job, that something is drawn, that a
# figure typed into a field marks the job as changed, that undo takes the mark
# away, that an action is found by a word and settings are kept, that a job is
# taken up after the window was killed, and that the window asks before it
# closes on changes, and closes.
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
find_window() {
    id=
    for _ in $(seq 150); do
        id=$(xdotool search --onlyvisible --name 'Seatwell' 2>/dev/null | head -n 1) && [[ -n $id ]] && break
        kill -0 $window 2>/dev/null || fail "the program ended before its window opened"
        sleep 0.1
    done
    [[ -n $id ]] || fail "no window opened"
    xdotool windowmove "$id" 0 0 windowsize "$id" 1280 800 windowfocus "$id" || true
}
find_window
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

# An action found by a word: the opening is shown in inches, and the list is shut.
xdotool key --clearmodifiers F1
sleep 1
xdotool type --delay 40 'inches and fr'
sleep 0.5
import -window root "$pictures/find.png"
xdotool key Return
sleep 1
import -window root "$pictures/inches.png"
changed=$(compare -metric AE "$pictures/zoomed.png" "$pictures/inches.png" null: 2>&1 || true)
[[ ${changed%%.*} -gt 500 ]] || fail "finding an action changes nothing ($changed pixels)"
for _ in $(seq 30); do grep -q 'units: inches' "$home/config/seatwell/settings.yaml" 2>/dev/null && break; sleep 0.1; done
grep -q 'units: inches' "$home/config/seatwell/settings.yaml" || fail "the settings are not kept"
echo "real window: an action is found by a word, and its setting kept"
xdotool key --clearmodifiers ctrl+u # back to mm
sleep 1

# Killed without warning, with a figure typed and not saved: the next window
# offers the job in a line, and the keyboard takes it up.
for kill in 1 2 3; do
    xdotool mousemove --sync 180 466 click 1
    sleep 0.5
    xdotool key --clearmodifiers ctrl+a
    xdotool type --delay 20 "18$((kill + 4))"
    wait_title '\* *' "a figure typed into a field does not mark the job as changed"
    sleep 2
    kill -9 $window
    wait $window 2>/dev/null || true
    kept=$(grep -l "width: 18$((kill + 4))" "$home"/data/seatwell/unsaved/*.yaml 2>/dev/null | wc -l || true)
    (( kept == 1 )) || fail "after kill $kill $kept copies of the unsaved job are on the disk"
    "$program" &
    window=$!
    find_window
    wait_title 'Brackenmoor*' "the window does not open again"
    sleep 1.5
    import -window root "$pictures/offered-$kill.png"
    xdotool key F6
    sleep 0.5
    xdotool key Return
    wait_title '\* *' "the job left behind is not taken up"
    sleep 1
done
import -window root "$pictures/taken-up.png"
echo "real window: killed three times, the unsaved job taken up each time"

# Quit asks once: the job taken up differs from the one that comes with the program.
xdotool key --clearmodifiers ctrl+q
sleep 1
import -window root "$pictures/asked.png"
kill -0 $window 2>/dev/null || fail "it closes and loses changes without a word"
xdotool key F6
sleep 0.5
xdotool key Tab
sleep 0.3
xdotool key Return # Go on without saving
for _ in $(seq 50); do kill -0 $window 2>/dev/null || break; sleep 0.1; done
if kill -0 $window 2>/dev/null; then fail "it does not close when asked"; fi
wait $window || fail "it ended with an error"
compgen -G "$home/data/seatwell/unsaved/*.yaml" >/dev/null && fail "a job let go stays behind"
echo "real window: asked before it closed, and closed"
echo "6 passed, 0 failed"
