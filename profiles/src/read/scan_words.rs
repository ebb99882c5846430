//! What the YAML parser complains of, in a fitter's words.

/// Nesting beyond what is followed: what was found, what is allowed.
pub(super) const TOO_DEEP: (&str, &str) = (
    "lists within lists beyond any need",
    "at most 64 levels of nesting",
);

/// Parts of the parser's sentences, what they mean, and what is allowed instead.
/// The first that occurs in a sentence counts.
const WORDS: [(&str, &str, &str); 24] = [
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
        "nothing after a closing quote; '…' around text that holds a \"",
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
        "flow sequence",
        "a [ that is not closed, or a comma missing inside [ ]",
        "items parted by commas and a closing ]",
    ),
    (
        "flow mapping",
        "a { that is not closed, or a comma missing inside { }",
        "key: value parted by commas and a closing }",
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

/// A complaint of the parser: what was found, and what is allowed.
pub(super) fn in_words(complaint: &str) -> (String, &'static str) {
    match WORDS.iter().find(|(part, _, _)| complaint.contains(part)) {
        Some((_, found, allowed)) => ((*found).to_owned(), allowed),
        None => (
            format!("text that cannot be followed ({complaint})"),
            "YAML: key: value, items after \"- \", groups indented by spaces",
        ),
    }
}
