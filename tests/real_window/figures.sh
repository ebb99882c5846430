# How long it takes, told and not judged: the machine may be busy with other things.

# The middle of some figures.
median() { printf '%s\n' "$@" | sort -n | sed -n "$((($# + 1) / 2))p"; }

# Processor time of the program so far, all its threads, in ms.
used() { awk -v tick="$(getconf CLK_TCK)" '{ print int(($14 + $15) * 1000 / tick) }' "/proc/$window/stat"; }

# A step of turning: from the pointer's move until the display differs, and what
# all of it costs. Looked at is what lies above the pointer, whose own picture
# moves whether the program draws or not. The program draws as often as it likes;
# what is divided by is steps, not frames.
tell_turning() {
    local steps=60 lags=() began before after x=700
    press ctrl+1 # away from the bench
    press F8 # nothing alone, whatever was before
    wait_still
    press F5 # the turned view, alone
    move $x 450
    wait_still
    picture turning
    coproc HAND { xdotool -; } # one that stays connected: starting one takes longer than a frame
    echo "mousedown 1" >&"${HAND[1]}"
    x=$((x + 20)) # far enough to be a drag and no click
    echo "mousemove $x 450" >&"${HAND[1]}"
    sleep 1
    before=$(used)
    for _ in $(seq $steps); do
        x=$((x + 3))
        rows 220 380 >"$home/before"
        began=${EPOCHREALTIME/./}
        echo "mousemove $x 450" >&"${HAND[1]}"
        while cmp -s "$home/before" <(rows 220 380); do
            ((${EPOCHREALTIME/./} - began < 2000000)) || fail "a step of turning is not drawn"
        done
        lags+=($(((${EPOCHREALTIME/./} - began) / 1000)))
        sleep 0.15 # the rest of what it draws for this step
    done
    after=$(used)
    echo "mouseup 1" >&"${HAND[1]}"
    exec {HAND[1]}>&-
    wait "$HAND_PID" || true
    echo "real window: a step of turning stands on the display after $(median "${lags[@]}") ms (median of $steps)," \
        "and takes $(((after - before) / steps)) ms of processor time in all"
}
tell_starts() {
    echo "real window: from start to the verdict drawn: $(printf '%s ' "${starts[@]}")ms"
}
