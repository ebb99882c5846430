# Leaving: killed without warning, and quit.

# Killed with a figure typed and not saved: the next window offers the job in a
# line, and the keyboard takes it up.
is_killed() {
    find_action 'begin from post'
    wait_title 'Brackenmoor*' "the demo job is not begun again"
    press ctrl+1
    local kill width
    for kill in 1 2 3; do
        width=18$((kill + 4))
        wait_still
        type_at 180 466 "$width"
        wait_title '\* *' "a figure typed into a field does not mark the job as changed"
        wait_until "the unsaved job is not on the disk" is_kept "width: $width"
        kill -9 $window
        wait $window 2>/dev/null || true
        copies=("$home"/data/seatwell/unsaved/*.yaml)
        ((${#copies[@]} == 1)) || fail "after kill $kill ${#copies[@]} copies of the unsaved job are on the disk"
        start_program
        wait_title 'Brackenmoor*' "the window does not open again"
        wait_still
        picture "offered-$kill"
        press F6
        wait_still
        press Return
        wait_title '\* *' "the job left behind is not taken up"
        wait_until "what is taken up is not what was left" is_kept "width: $width"
    done
    wait_still
    picture taken-up
    pass "killed three times, the unsaved job taken up each time"
}

# Quit asks once: the job taken up differs from the one that comes with the program.
quits() {
    picture unasked
    press ctrl+q
    wait_changed unasked 1000 "it does not ask before it closes on changes"
    wait_still
    picture asked
    kill -0 $window 2>/dev/null || fail "it closes and loses changes without a word"
    press F6
    wait_still
    press Tab
    wait_still
    press Return # Go on without saving
    is_gone() { ! kill -0 $window; }
    wait_until "it does not close when asked" is_gone
    wait $window || fail "it ended with an error"
    compgen -G "$home/data/seatwell/unsaved/*.yaml" >/dev/null && fail "a job let go stays behind"
    pass "asked before it closed, and closed"
}
