#!/usr/bin/env bash
# The real window under a virtual display, with real mouse and key events.
#
#   tests/real_window.sh PATH-OF-seatwell [FOLDER-FOR-PICTURES]
#
# What an installer does most, each told by an effect: the title of the window,
# what lies on the disk, or, where there is nothing else, pixels that change.
#
#   opens on the demo job                a figure typed, and undone
#   zoomed by the wheel                  an action found by a word; settings kept
#   a rib chosen on the drawing          the rib dragged
#   a lead plugged in                    the turned view turned
#   saved under a name, opened again     the least cut looked for, a step taken
#   killed, and the job taken up         asked before it closes on changes
#
# It also tells, without judging, how long the program takes until its window is
# drawn, and what a step of turning costs on a driver that draws in software.
set -euo pipefail

here=$(dirname "$(realpath "$0")")
program=$(realpath "$1")
pictures=${2:-$(mktemp -d)}
mkdir -p "$pictures"
export LIBGL_ALWAYS_SOFTWARE=1
unset WAYLAND_DISPLAY WAYLAND_SOCKET
home=$(mktemp -d)
export HOME=$home XDG_CONFIG_HOME=$home/config XDG_DATA_HOME=$home/data XDG_RUNTIME_DIR=$home
server= window= id= starts=()
trap 'kill $window $server 2>/dev/null || true' EXIT

source "$here/real_window/hands.sh"
source "$here/real_window/drawing.sh"
source "$here/real_window/job.sh"
source "$here/real_window/leaving.sh"
source "$here/real_window/figures.sh"

start_display
opens
types_and_undoes
zooms
finds_an_action
chooses_a_rib
drags_the_rib
plugs_in_a_lead
turns
saves_and_opens
takes_a_cut
tell_turning
is_killed
tell_starts
quits
echo "$passed passed, 0 failed"
