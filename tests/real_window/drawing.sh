# What is done on the drawing: zoom, choose, drag, turn.

# The wheel zooms at the pointer, and all is shown again.
zooms() {
    move 1000 300
    wait_still
    picture before-zoom
    xdotool click --repeat 3 4
    wait_changed before-zoom 5000 "the wheel does not zoom"
    wait_still
    picture zoomed
    press F9
    wait_changed zoomed 5000 "what was zoomed does not come back"
    pass "the wheel zooms"
}

# A click on the rear cross rib opens its form: what is typed into the name
# there is the rib's.
chooses_a_rib() {
    press F2 # looking in, alone
    move 900 330
    wait_still
    picture before-choice
    xdotool click 1
    wait_changed before-choice 5000 "a click on the drawing chooses nothing"
    wait_still
    picture chosen
    type_at 225 572 'long cross rib'
    press Return
    wait_title '\* *' "a name typed into the form of what was chosen does not change the job"
    rib_is_named() { kept | grep -A1 'id: R1$' | grep -q 'name: long cross rib'; }
    wait_until "the form that a click on the rib opens is not the rib's" rib_is_named
    pass "a rib is chosen on the drawing, and its form opens"
}

# The rib goes with the hand.
drags_the_rib() {
    local was
    was=$(kept | rib_bottom)
    wait_still
    drag 900 330 900 305
    rib_went_up() { awk "BEGIN { exit !($(kept | rib_bottom) > $was + 5) }"; }
    wait_until "the rib does not go with the hand" rib_went_up
    wait_still
    picture dragged
    pass "the rib is dragged from $was to $(kept | rib_bottom)"
}

# A drag turns the turned view; the same drag back turns it back.
turns() {
    press F5 # the turned view, alone
    move 800 450
    wait_still
    picture unturned
    drag 800 450 880 430
    wait_changed unturned 20000 "a drag does not turn the turned view"
    wait_still
    picture turned
    drag 880 430 800 450
    is_turned_back() { picture now && (($(differing unturned now) < 5000)); }
    wait_until "the same drag back does not turn it back" is_turned_back
    pass "the turned view is turned, and turned back"
}
