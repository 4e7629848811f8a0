//! The file as TOML, its version, its tables and the keys of each.

use super::fixture::check_guide;

#[test]
fn what_is_no_toml_is_told_at_its_place_and_reading_goes_on() {
    check_guide(
        r#"
stepjig = 1
[guide]
id = "g"
title = "G"
[[step]]
id = "a"
do = "Scuff the tube.
#                    | syntax: invalid basic string
gives = ["tube.scuffed"]
[[step]]
id = "b"
do = "Glue it."
nedes = ["tube.scuffed"]
#<^^^ unknown-key: there is no key `nedes` … did you mean `needs`
[[step]]
id = "end"
end = "finished"
"#,
    );
}

#[test]
fn a_key_given_twice_is_told_where_it_stands_again() {
    check_guide(
        r#"
[[step]]
id = "a"
do = "Scuff the tube."
do = "Glue the tube."
#< syntax: duplicate key
"#,
    );
}

#[test]
fn what_toml_1_1_added_is_refused() {
    check_guide(
        r#"
[kit]
width = "\x31 mm"
#        ^^ syntax: an escape that TOML 1.0 does not have
name = "\e"
#       ^^ syntax: an escape that TOML 1.0 does not have
[[step]]
id = "a"
do = "Scuff the tube."
then = { to = "end", }
                 # ^ syntax: a comma before the closing brace of an inline table is not TOML 1.0
[[step]]
id = "b"
do = "Glue it."
then = { # why
       # ^^^^^ syntax: a comment inside an inline table is not TOML 1.0
to = "end" }
[[step]]
id = "end"
end = "finished"
"#,
    );
}

#[test]
fn a_time_is_no_value_of_a_guide_with_or_without_seconds() {
    check_guide(
        r#"
[kit]
old = 07:32:00
#     ^^^^^^^^ wrong-type: `kit.old` wants a number, this is of type datetime
new = 07:32
#     ^^^^^ syntax: a time without seconds is not TOML 1.0
#     ^^^^^ wrong-type: `kit.new` wants a number
[[step]]
id = "end"
end = "finished"
"#,
    );
}

#[test]
fn the_format_version_is_1() {
    check_guide(
        r#"
stepjig = 2
#         ^ bad-value: format 2 is not known to this stepjig … begin with `stepjig = 1`
[guide]
id = "g"
title = "G"
"#,
    );
    check_guide(
        r#"
stepjig = "1"
#         ^^^ wrong-type: `stepjig` wants the number 1, this is of type string
[guide]
id = "g"
title = "G"
"#,
    );
}

/// A span of no width at the very beginning: there is nothing that could be pointed at.
#[test]
fn a_file_without_version_or_table_says_so_at_its_beginning() {
    use stepjig::finding::Source;
    use stepjig::guide::Library;
    for (text, expected) in [
        ("[guide]\nid = \"g\"\ntitle = \"G\"\n[[step]]\nid = \"e\"\nend = \"finished\"\n", &["the format version"][..]),
        ("stepjig = 1\n", &["none of the tables `[guide]`"]),
        ("", &["the format version", "none of the tables"]),
    ] {
        let linked = Library::empty().link(&Source::new("g.toml", text));
        let places: Vec<_> = linked.findings.iter().map(|f| (f.code.as_str(), f.place.line_column())).collect();
        assert_eq!(places, vec![("missing-key", (1, 1)); expected.len()], "{text}");
        assert!(linked.findings.iter().all(|f| f.help.is_some() && expected.iter().any(|e| f.message.contains(e))));
    }
}

#[test]
fn a_guide_has_an_id_a_title_and_a_step() {
    check_guide(
        r#"
stepjig = 1
[guide]
#^^^^^ missing-key: `[guide]` has no `id`
#^^^^^ missing-key: `[guide]` has no `title`
#^^^^^ missing-key: the file has no `[[step]]`
passing = []
words = "end = "
#<^^^ unknown-key: there is no key `words` in `[guide]`
"#,
    );
}

#[test]
fn an_unknown_key_is_told_in_every_table() {
    check_guide(
        r#"
stepjig = 1
[guid]
#^^^^ unknown-key: there is no key `guid` at the top of this file … did you mean `guide`
[guide]
id = "g"
title = "G"
use-wen = "Testing."
#<^^^^^ unknown-key: there is no key `use-wen` in `[guide]` … did you mean `use-when`
[[step]]
id = "a"
do = "Scuff the tube."
cuation = [{ level = "danger", hazard = "Dust", avoid = "Mask on" }]
#<^^^^^ unknown-key: there is no key `cuation` in a `do` step … did you mean `caution`
caution = [{ level = "danger", hazzard = "Dust", avoid = "Mask on" }]
         #                     ^^^^^^^ unknown-key: there is no key `hazzard` in a caution … did you mean `hazard`
unit = "mm"
#<^^ unknown-key: there is no key `unit` in a `do` step
then = { too = "end" }
       # ^^^ unknown-key: there is no key `too` in `then` … did you mean `to`
[[step]]
id = "b"
ask = "Is it dull?"
answers = [
  { say = "dull", go = "end" },
                # ^^ unknown-key: there is no key `go` in an answer … did you mean `to`
  { say = "bright", trouble = { tabel = "t", table = "t" } },
                              # ^^^^^ unknown-key: there is no key `tabel` in `trouble` … did you mean `table`
                              #                      ^^^ no-such-trouble: there is no fault table `t`
]
[[step]]
id = "c"
gauge = "Measure the tube."
unit = "mm"
limits = { mim = "9 mm" }
         # ^^^ unknown-key: there is no key `mim` in `limits` … did you mean `min`
[[step]]
id = "d"
run = "p"
one-way = true
#<^^^^^ unknown-key: a `run` cannot have `one-way` … put it on the steps inside
minutes = 3
#<^^^^^ unknown-key: a `run` cannot have `minutes`
at = "lathe"
#< unknown-key: a `run` cannot have `at`
with = { tbue = "body" }
       # ^^^^ unknown-key: the procedure `p` takes no `tbue` … did you mean `tube`
[[step]]
id = "end"
end = "finished"
then = "a"
#<^^ unknown-key: there is no key `then` in a `end` step
--- p.toml
stepjig = 1
kit = {}
#<^ unknown-key: there is no key `kit` at the top of this file
[procedure]
id = "p"
title = "P"
takes = ["tube"]
needs = ["a"]
#<^^^ unknown-key: there is no key `needs` in `[procedure]`
[[step]]
id = "return"
end = "return"
"#,
    );
}

#[test]
fn columns_count_characters_from_1_after_any_text() {
    check_guide(
        r#"
stepjig = 1
[guide]
id = "g"
title = "Füller – ½″"
[words]
"tube.scuffed" = "die Hülse ist matt 🖋"
[[step]]
id = "a"
ask = "Is it dull?"
answers = [{ say = "ja – völlig", too = "end" }, { say = "nein 🖋", to = "ennd" }]
#                                 ^^^ unknown-key: did you mean `to`
#                                                                       ^^^^^^ no-such-step: did you mean `end`
[[step]]
id = "end"
end = "finished"
"#,
    );
}

#[test]
fn many_faults_are_reported_in_one_run() {
    let findings = check_guide(
        r#"
stepjig = 1
[guide]
id = "g"
title = 3
#       ^ wrong-type: `title` wants text in quotes, this is of type integer
[[step]]
id = "a"
do = "Scuff the tube."
then = "bb"
#      ^^^^ no-such-step: no step is named `bb`
[[step]]
id = "a"
#    ^^^ duplicate-id: there is already a step `a`
do = "Glue it."
[[step]]
id = "c d"
#    ^^^^^ bad-value: `c d` is no id for a step
do = "Glue it."
gives = "tube.glued"
#       ^^^^^^^^^^^^ wrong-type: `gives` wants a list of texts in brackets
[[step]]
id = "e"
wait = "20"
#      ^^^^ bad-value: write a time with its unit
ready = ""
#       ^^ bad-value: `ready` is empty
[[step]]
id = "f"
reckon = "tube-gab"
#        ^^^^^^^^^^ no-such-reckoning: there is no reckoning `tube-gab` … did you mean `tube-gap`
[[step]]
id = "end"
end = "finnished"
#     ^^^^^^^^^^^ bad-value: there is no end `finnished` … did you mean `finished`
"#,
    );
    assert!(findings.is_sorted_by_key(|finding| finding.place.line_column()));
}
