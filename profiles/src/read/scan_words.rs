//! What the YAML parser complains of, in a fitter's words.

use saphyr_parser::ScanError;

use super::Faults;

/// Nesting beyond what is followed: what was found, what is allowed.
pub(super) const TOO_DEEP: (&str, &str) = (
    "lists within lists beyond any need",
    "at most 64 levels of nesting",
);

/// Parts of the parser's sentences, what they mean, and what is allowed instead.
/// The first that occurs in a sentence counts.
const WORDS: [(&str, &str, &str); 24] = [
    (
        "unprintable",
        "a character that cannot be printed",
        "a text file in UTF-8",
    ),
    (
        "tab",
        "a tab where the line is indented",
        "spaces; tabs do not count as indentation",
    ),
    (
        "quoted scalar, found unexpected end",
        "a quote that is never closed",
        "a closing quote of the same kind",
    ),
    (
        "quoted scalar, found unexpected document",
        "a quote that is never closed",
        "a closing quote of the same kind",
    ),
    (
        "indentation in quoted scalar",
        "a quote that is not closed on its line",
        "a closing quote of the same kind",
    ),
    (
        "trailing content after double-quoted",
        "text after a closing quote",
        "nothing after a closing quote; '…' around text that holds a \", \"…\" around text that holds a '",
    ),
    (
        "escape",
        "a \\ in double quotes with a letter that means nothing after it",
        "'…' around text that holds a \\",
    ),
    (
        "hexadecimal",
        "a \\ in double quotes with a letter that means nothing after it",
        "'…' around text that holds a \\",
    ),
    (
        "mapping values are not allowed",
        "a \": \" that does not belong to a key, or a line indented too far",
        "one key: value on a line; quotes around text that holds \": \"",
    ),
    (
        "illegal placement of ':'",
        "a \":\" that does not belong to a key",
        "one key: value on a line; quotes around text that holds \": \"",
    ),
    (
        "simple key expect",
        "a line without a \":\" after its key",
        "key: value",
    ),
    (
        "did not find expected key",
        "a line that does not continue the keys above it",
        "keys of one group one below the other, each as key: value",
    ),
    (
        "did not find expected '-'",
        "a line that does not continue the list above it",
        "items of one list one below the other, each with its -",
    ),
    (
        "block sequence entries are not allowed",
        "a \"- \" behind a key",
        "the first item of a list on a line of its own",
    ),
    (
        "only valid inside a block",
        "a \"- \" inside [ ] or { }",
        "items parted by commas inside [ ]",
    ),
    (
        "flow construct",
        "a [ or { that is not closed",
        "items parted by commas and a closing ] or }",
    ),
    (
        "misplaced bracket",
        "a closing bracket that nothing opened",
        "a [ for every ] and a { for every }",
    ),
    ("recursion limit", TOO_DEEP.0, TOO_DEEP.1),
    (
        "unknown anchor",
        "an alias (*)",
        "the value itself; aliases are not used in these files",
    ),
    (
        "anchor",
        "a value that begins with & or *",
        "quotes around text that begins with & or *",
    ),
    (
        "indent",
        "a line indented unlike its neighbours",
        "keys of one group one below the other",
    ),
    (
        "directive",
        "a line that begins with %",
        "quotes around text that begins with a sign",
    ),
    (
        "unexpected character",
        "a value that begins with %, @ or `",
        "quotes around text that begins with a sign",
    ),
    (
        "plain scalar",
        "a value that breaks off",
        "quotes around text with signs in it",
    ),
];

/// Puts a complaint of the parser into words and adds it.
///
/// * `text`: the text it complains of
/// * `open`: the innermost `[` or `{` still open, and its line
pub(super) fn add(error: &ScanError, text: &str, open: Option<(char, usize)>, faults: &mut Faults) {
    let (complaint, line) = (error.info(), error.marker().line());
    if let Some((bracket, opened)) = open
        && ["indent", "flow sequence, exp", "flow mapping, did"]
            .iter()
            .any(|part| complaint.contains(part))
    {
        let (close, inside) = match bracket {
            '[' => (']', "items"),
            _ => ('}', "key: value"),
        };
        let found = format!("a {bracket} that is not closed, or a comma missing inside it");
        let allowed = format!("{inside} parted by commas and a closing {close}");
        faults.add(opened, "", found, allowed);
        return;
    }
    let words = WORDS.iter().find(|(part, _, _)| complaint.contains(part));
    let Some((part, found, allowed)) = words else {
        let found = format!("text that cannot be followed ({complaint})");
        faults.add(line, "", found, PLAIN);
        return;
    };
    // A tab is complained of where the value before it began.
    let is_tabbed = |line: &str| line.trim_start_matches(' ').starts_with('\t');
    let line = match *part {
        "tab" => (line..)
            .zip(text.lines().skip(line.saturating_sub(1)))
            .find(|(_, text)| is_tabbed(text))
            .map_or(line, |(line, _)| line),
        _ => line,
    };
    faults.add(line, "", *found, *allowed);
}

/// What these files are made of.
const PLAIN: &str = "YAML: key: value, items after \"- \", groups indented by spaces";
