# The hands and eyes of tests/real_window.sh: the display, the program on it,
# pressing, and waiting until something is so. Whatever is checked is waited
# for, so that a loaded machine makes the run longer and not red.

passed=0
pass() { echo "real window: $1"; passed=$((passed + 1)); }
fail() {
    echo "real window: $1" >&2
    import -window root "$pictures/failed.png" || true
    exit 1
}

# The display. Its picture also lies in a file, which can be looked at without
# taking time from the program.
start_display() {
    Xvfb -displayfd 3 -screen 0 1280x800x24 -fbdir "$home" +extension GLX \
        3>"$home/display" >"$home/server.log" 2>&1 &
    server=$!
    for _ in $(seq 300); do [[ -s $home/display ]] && break; sleep 0.1; done
    [[ -s $home/display ]] || { cat "$home/server.log" >&2; fail "the virtual display does not start"; }
    export DISPLAY=:$(<"$home/display")
    for _ in $(seq 100); do xdpyinfo >/dev/null 2>&1 && break; sleep 0.1; done
    xdpyinfo >/dev/null || { cat "$home/server.log" >&2; fail "the virtual display does not answer"; }
    screen=$home/Xvfb_screen0
}

# Rows FROM to TO of the display as they lie in its file, four bytes a pixel.
rows() { # rows FROM TO
    local head=$(($(stat -c %s "$screen") - 1280 * 800 * 4))
    dd if="$screen" iflag=skip_bytes,count_bytes bs=64K status=none \
        skip=$((head + 1280 * 4 * $1)) count=$((1280 * 4 * ($2 - $1)))
}

# Whether words stand where the verdict is.
is_drawn() { (($(rows 46 58 | od -An -v -tx4 -w4 | sort -u | wc -l) > 20)); }

# Starts the program and waits for its window; notes how long it took until the
# verdict stood there.
start_program() {
    local began=${EPOCHREALTIME/./}
    "$program" "$@" &
    window=$!
    until is_drawn; do
        kill -0 "$window" 2>/dev/null || fail "the program ended before its window opened"
        ((${EPOCHREALTIME/./} - began < 60000000)) || fail "nothing is drawn"
    done
    starts+=($(((${EPOCHREALTIME/./} - began) / 1000)))
    for _ in $(seq 300); do
        id=$(xdotool search --onlyvisible --name 'Seatwell' 2>/dev/null | head -n 1) && [[ -n $id ]] && break
        sleep 0.1
    done
    [[ -n $id ]] || fail "no window opened"
    xdotool windowmove "$id" 0 0 windowsize "$id" 1280 800 windowfocus "$id" || true
}

picture() { import -window root "$pictures/$1.png"; }
# How many pixels differ between two pictures.
differing() {
    printf '%.0f' "$(compare -metric AE "$pictures/$1.png" "$pictures/$2.png" null: 2>&1 || true)"
}

title() { xdotool getwindowname "$id" 2>/dev/null || true; }
wait_title() { # wait_title PATTERN WHAT-IS-WRONG
    for _ in $(seq 300); do [[ $(title) == $1 ]] && return; sleep 0.1; done
    fail "$2 (title: '$(title)')"
}
wait_until() { # wait_until WHAT-IS-WRONG COMMAND...
    local wrong=$1
    shift
    for _ in $(seq 300); do "$@" 2>/dev/null && return; sleep 0.1; done
    fail "$wrong"
}
# Until more than so many pixels differ from a picture taken before.
wait_changed() { # wait_changed PICTURE PIXELS WHAT-IS-WRONG
    local changed=0
    for _ in $(seq 150); do
        picture now
        changed=$(differing "$1" now)
        ((changed > $2)) && return
        sleep 0.1
    done
    fail "$3 ($changed pixels changed)"
}
# Until the picture stays as it is: nothing moves, and no lead is being laid. A
# caret may blink.
wait_still() {
    local same=0
    picture now
    for _ in $(seq 200); do
        mv "$pictures/now.png" "$pictures/then.png"
        sleep 0.25
        picture now
        if (($(differing then now) < 150)); then same=$((same + 1)); else same=0; fi
        ((same == 3)) && return
    done
    fail "the window does not come to rest"
}

press() { xdotool key --clearmodifiers "$@"; }
move() { xdotool mousemove "$1" "$2"; sleep 0.2; }
click() { move "$1" "$2"; xdotool click 1; }
drag() { # drag FROM-X FROM-Y TO-X TO-Y
    move "$1" "$2"
    xdotool mousedown 1
    for part in 1 2 3 4 5 6 7 8; do
        xdotool mousemove $(($1 + ($3 - $1) * part / 8)) $(($2 + ($4 - $2) * part / 8))
        sleep 0.05
    done
    sleep 0.2
    xdotool mouseup 1
}
# Puts words into the field at that place instead of what stands in it.
type_at() { # type_at X Y WORDS
    click "$1" "$2"
    wait_still
    press ctrl+a
    xdotool type --delay 30 "$3"
}
# Does the first action that has these words.
find_action() {
    wait_still
    picture before-list
    press F1
    wait_changed before-list 5000 "F1 does not open the list of actions"
    xdotool type --delay 30 "$1"
    sleep 0.3
    press Return
}
# Presses what asks for the path of a job, and types it into the line that asks.
give_path() { # give_path KEYS PATH
    wait_still
    picture before-path
    press "$1"
    wait_changed before-path 5000 "no line asks for a path"
    wait_still
    press ctrl+a
    xdotool type --delay 30 "$2"
    press Return
}

# The copy of the job that is kept on the disk while it is not saved.
kept() { cat "$home"/data/seatwell/unsaved/*.yaml; }
is_kept() { kept | grep -q -- "$1"; }
# The lower face of the rib behind the opening, as a job file has it.
rib_bottom() { awk '/id: / { rib = /id: R1$/ } rib && /up:/ { getline; print $2; exit }'; }
