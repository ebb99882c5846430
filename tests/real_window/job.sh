# What is done with the job: figures, leads, cuts, files.

# The demo job stands there.
opens() {
    start_program
    wait_title '*Brackenmoor*' "the window does not show the demo job"
    wait_still
    picture opened
    local tones
    tones=$(identify -format '%k' "$pictures/opened.png")
    ((tones > 50)) || fail "hardly anything is drawn ($tones tones)"
    pass "opened, $tones tones"
}

# The opening's width is the first field of the card.
types_and_undoes() {
    type_at 180 466 '183 '
    press Return
    wait_title '\* *' "a figure typed into a field does not mark the job as changed"
    wait_until "the figure typed is not the opening's width" is_kept 'width: 183'
    wait_still
    picture typed
    pass "a typed figure changes the job"

    click 640 60 # out of the field
    wait_still
    press ctrl+z
    wait_title 'Brackenmoor*' "undo does not bring the first job back"
    pass "undo brings it back"
}

# The opening is shown in inches, and the list is shut.
finds_an_action() {
    find_action 'inches and fr'
    wait_until "the settings are not kept" grep -q 'units: inches' "$home/config/seatwell/settings.yaml"
    wait_still
    picture inches
    (($(differing before-list inches) > 500)) || fail "lengths are not shown in inches"
    pass "an action is found by a word, and its setting kept"
    press ctrl+u # back to mm
    wait_until "Ctrl+U does not go back to mm" grep -q 'units: millimetres' "$home/config/seatwell/settings.yaml"
}

# The last step of the list of leads: a lead for the socket that has none.
plugs_in_a_lead() {
    is_kept 'socket: usb_2' && fail "the second USB socket has its lead already"
    press ctrl+4
    wait_still
    move 170 560
    xdotool click --repeat 40 5 # down to the end of the card
    wait_still
    picture leads
    click 130 601 # second USB socket
    wait_until "no lead is plugged in" is_kept 'socket: usb_2'
    wait_still
    picture plugged-in
    pass "a lead is plugged in"
}

# Saved, another job begun, opened again, and saved under another name: both
# files are equal, and hold what was done.
saves_and_opens() {
    give_path ctrl+shift+s "$home/van"
    wait_until "the job is not saved" test -s "$home/van.yaml"
    wait_title 'Brackenmoor*' "the job saved is still marked as changed"
    for done in 'name: long cross rib' 'socket: usb_2'; do
        grep -q "$done" "$home/van.yaml" || fail "'$done' is not in the file"
    done
    compgen -G "$home/data/seatwell/unsaved/*.yaml" >/dev/null && fail "a saved job is kept as not saved"
    find_action 'begin from town'
    wait_title 'Corriewater*' "no other job is begun"
    give_path ctrl+o "$home/van.yaml"
    wait_title 'Brackenmoor*' "the job is not opened again"
    give_path ctrl+shift+s "$home/again.yaml"
    wait_until "the job opened is not saved" test -s "$home/again.yaml"
    cmp "$home/van.yaml" "$home/again.yaml" || fail "the job opened is not the one saved"
    pass "saved under a name and opened again, the same"
}

# What the command line says of the job with the module moved.
goes_in_flush() { "$program" check "$home/moved.yaml" --layer routed >"$home/checked.txt"; }

# With its data module above the glovebox the demo's rib bars the way, and a
# notch lets everything in: flush is the first column of the curve.
takes_a_cut() {
    sed -e 's/^name: .*/name: Module above the glovebox/' \
        -e '/id: M1$/,/lead_length/ s/pinned: .*/may_go_to: [GB1]/' \
        "$here/../profiles/library/jobs/post-van.yaml" >"$home/moved.yaml"
    give_path ctrl+o "$home/moved.yaml"
    wait_title 'Module above*' "the job with the module moved is not opened"
    grep -q 'trims:' "$home/moved.yaml" && fail "the job has notches already"
    goes_in_flush && fail "it goes in flush without a notch"
    press ctrl+8
    wait_still
    picture trim
    click 83 494 # Look for the least cut
    is_cut() { # found once a click on the first column takes it
        click 470 590
        sleep 1
        [[ $(title) == '* '* ]]
    }
    wait_until "no step of the curve can be taken" is_cut
    press ctrl+s
    wait_until "the notch is not in the file" grep -q 'rib: R1' "$home/moved.yaml"
    wait_title 'Module above*' "the job saved is still marked as changed"
    wait_still
    picture cut
    goes_in_flush || fail "with the notch it does not go in flush: $(head -n 3 "$home/checked.txt")"
    pass "the least cut is looked for, and the notch taken lets everything in"
}
