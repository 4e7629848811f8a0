//! What one step must and may say.

use super::fixture::{check_guide, check_guide_with};
use stepjig::guide::Limits;

#[test]
fn a_step_has_an_id_and_one_kind() {
    check_guide(
        r#"
[[step]]
#<^^^^^^ missing-key: this step has no `id`
do = "Scuff the tube."
[[step]]
id = "b"
guage = "Measure it."
#<^^^ unknown-key: there is no key `guage` in a step … did you mean `gauge`
[[step]]
#<^^^^^^ missing-key: this step has none of the keys … add one of `do`, `ask`
id = "c"
[[step]]
id = "d"
do = "Glue it."
ask = "Is it hard?"
#<^ two-kinds: the step is a `do` already, it cannot be a `ask` too … make two steps of it
"#,
    );
}

#[test]
fn no_two_steps_of_a_file_have_the_same_id() {
    check_guide(
        r#"
[[step]]
id = "a"
do = "Scuff the tube."
[[step]]
id = "a"
#    ^^^ duplicate-id: there is already a step `a`
do = "Glue it."
[[step]]
id = "a/b"
#    ^^^^^ bad-value: `a/b` is no id for a step … a slash stands only in the ids of steps inside a run
do = "Glue it."
"#,
    );
}

#[test]
fn each_kind_wants_its_keys() {
    check_guide(
        r#"
[[step]]
#<^^^^^^ missing-key: this question has no `answers`
id = "a"
ask = "Is it dull?"
[[step]]
#<^^^^^^ missing-key: this gauge has no `unit`
#<^^^^^^ missing-key: this gauge has no `limits`
id = "b"
gauge = "Measure the tube."
[[step]]
#<^^^^^^ missing-key: this wait has no `ready` … say the sign that it is really over
id = "c"
wait = "20 min"
[[step]]
id = "d"
ask = "Is it dull?"
answers = [{ say = "dull" }, { to = "end" }]
                           # ^^^^^^^^^^^^^^ missing-key: this answer has no `say`
[[step]]
id = "e"
do = "Glue it."
trouble = [{ with = { tube = "body" } }]
         # ^^^^^^^^^^^^^^^^^^^^^^^^^^^^ missing-key: this `trouble` has no `table`
caution = [{ level = "danger" }]
         # ^^^^^^^^^^^^^^^^^^^^ missing-key: this caution has no `hazard`
         # ^^^^^^^^^^^^^^^^^^^^ missing-key: this caution has no `avoid`
"#,
    );
}

#[test]
fn values_of_the_wrong_type_are_told_with_the_type_that_is_wanted() {
    check_guide(
        r#"
[words]
"tube.scuffed" = ["dull"]
               # ^^^^^^^^ wrong-type: `words` wants text in quotes, this is of type array
[kit]
drill = [1]
      # ^^^ wrong-type: `kit.drill` wants a number
[[step]]
id = 1
   # ^ wrong-type: `id` wants text in quotes, this is of type integer
do = "Scuff the tube."
[[step]]
id = "b"
do = 1
   # ^ wrong-type: `do` wants text in quotes
[[step]]
id = "c"
do = "Glue it."
needs = "tube.scuffed"
      # ^^^^^^^^^^^^^^ wrong-type: `needs` wants a list of texts in brackets, this is of type string
gives = [1]
       # ^ wrong-type: `gives` wants text in quotes
one-way = "true"
        # ^^^^^^ wrong-type: `one-way` wants true or false, this is of type string
minutes = "3"
        # ^^^ wrong-type: `minutes` wants a number
caution = { level = "danger" }
        # ^^^^^^^^^^^^^^^^^^^^ wrong-type: `caution` wants a list of tables, this is of type table
trouble = "t"
        # ^^^ wrong-type: `trouble` wants a list of fault tables in brackets
clock = [1]
      # ^^^ wrong-type: `clock` wants a table
then = 4
     # ^ wrong-type: `then` wants a step's id, or a table with `to`, this is of type integer
[[step]]
id = "d"
ask = "Is it dull?"
answers = "yes"
        # ^^^^^ wrong-type: `answers` wants a list of tables
[[step]]
id = "e"
gauge = "Measure it."
unit = "mm"
limits = [9, 10]
       # ^^^^^^^ wrong-type: `limits` wants a table
"#,
    );
}

#[test]
fn values_out_of_range_are_told() {
    check_guide(
        r#"
[kit]
"a b" = 1
#<^^^ bad-value: `a b` cannot be part of a kit number's name
n = nan
#   ^^^ bad-value: `kit.n` wants a number that can be measured
[[step]]
id = "a"
do = " "
#    ^^^ bad-value: `do` is empty
[[step]]
id = "b"
do = "Glue it."
in-one-go = ["1", "2", "3", "4", "5", "6", "7", "8"]
          # ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ bad-value: 8 moves are too many … 7 is the most
minutes = -1
        # ^^ bad-value: -1 minutes cannot be
gives = ["tube glued"]
       # ^^^^^^^^^^^^ bad-value: `tube glued` is no name for a condition … `cap.glued`
caution = [{ level = "dangre", hazard = "Dust", avoid = "Mask on" }]
                   # ^^^^^^^^ bad-value: there is no caution level `dangre` … did you mean `danger`
then = { to = "end", trouble = "t" }
                             # ^^^ bad-value: a way leads to a step or to a fault table, not to both
                             # ^^^ no-such-trouble: there is no fault table `t`
[[step]]
id = "c"
gauge = "Measure it."
unit = "milimetre"
     # ^^^^^^^^^^^ bad-value: no gauge reads in `milimetre`
limits = {}
[[step]]
id = "d"
wait = "soon"
     # ^^^^^^ bad-value: write a time with its unit
ready = "It is hard."
up-to = "1 day"
not-ready = "d"
[[step]]
id = "e"
wait = "1 h"
ready = "It is hard."
meanwhile = true
up-to = "2 h"
      # ^^^^^ bad-value: a `meanwhile` wait has no `up-to`
not-ready = "e"
          # ^^^ bad-value: a `meanwhile` wait has no `not-ready`
[[step]]
id = "f"
run = "p"
each = []
     # ^^ bad-value: `each` has nothing to repeat for
[[step]]
id = "g"
end = "return"
    # ^^^^^^^^ bad-value: only a procedure returns … `finished` or `scrap`
[[step]]
id = "end"
end = "finished"
--- p.toml
stepjig = 1
[procedure]
id = "p"
title = "P"
[[step]]
id = "a"
do = "Scuff."
then = "c"
[[step]]
id = "c"
end = "finished"
    # ^^^^^^^^^^ bad-value: a procedure does not finish the pen, it returns @ f
[[step]]
id = "return"
end = "return"
"#,
    );
}

/// A slip in a limit must not make a gauge that lets everything pass.
#[test]
fn limits_can_be_read_in_the_gauges_unit_and_are_the_right_way_round() {
    check_guide(
        r#"
[kit]
wide = "10.3 mm"
name = "maple"
[[step]]
id = "a"
gauge = "Measure the tube."
unit = "mm"
limits = { min = "abc", max = "{kit.wide}" }
               # ^^^^^ bad-value: abc
under = "end"
over = "end"
[[step]]
id = "b"
gauge = "Measure the tube."
unit = "mm"
limits = { min = "3 min", max = "{kit.name}" }
               # ^^^^^^^ bad-value: min
                              # ^^^^^^^^^^^^ bad-value: `{kit.name}`: `maple` is not a length
under = "end"
over = "end"
[[step]]
id = "c"
gauge = "Measure the tube."
unit = "mm"
limits = { min = 10.3, max = "10.2 mm" }
                           # ^^^^^^^^^ bad-value: below
under = "end"
over = "end"
[[step]]
id = "d"
do = "Turn the nib."
clock = { nib = "13:00", grain = "12:00" }
              # ^^^^^^^ bad-value: 13:00
"#,
    );
}

#[test]
fn a_question_has_two_or_more_different_answers_of_its_own() {
    check_guide(
        r#"
[[step]]
id = "a"
ask = "Is it dull?"
answers = []
#<^^^^^ one-answer: the question has no answer
[[step]]
id = "b"
ask = "Is it dull?"
answers = [{ say = "dull" }]
#<^^^^^ one-answer: the question has only one answer … what has one is a `do`
[[step]]
id = "c"
ask = "Is it dull?"
answers = [{ say = "It's dull." }, { say = "its  DULL" }, { say = "Park!" }, { say = "?" }]
                                         # ^^^^^^^^^^^ duplicate-answer: the answer `its  DULL` is there already
                                                                # ^^^^^^^ reserved-answer: `Park!` is a word of the prompt's own
                                                                                   # ^^^ reserved-answer: `?` is a word
"#,
    );
    let twenty_one: String = (0..21).map(|n| format!("{{ say = \"face {n}\" }}, ")).collect();
    let fixture = |answers: &str, expected: &str| {
        format!("[[step]]\nid = \"a\"\nask = \"Which?\"\nanswers = [{answers}]\n{expected}")
    };
    check_guide(&fixture(&twenty_one, "#<^^^^^ bad-value: 21 answers are too many; 20 is the most\n"));
    check_guide_with(Limits { answers: 21, ..Limits::default() }, &fixture(&twenty_one, ""));
}

#[test]
fn every_word_of_the_prompt_is_reserved() {
    for word in ["done", "trouble", "back", "why", "where", "ahead", "note", "park", "again", "skip"] {
        let carets = "^".repeat(word.len() + 2);
        check_guide(&format!(
            r#"
[[step]]
id = "a"
ask = "Is it dull?"
answers = [{{ say = "dull" }}, {{ say = "{word}" }}]
                                   # {carets} reserved-answer: `{word}` is a word
"#
        ));
    }
}

#[test]
fn a_limit_and_an_up_to_have_their_ways() {
    check_guide(
        r#"
[[step]]
id = "a"
gauge = "Measure the tube."
unit = "mm"
limits = { min = "9.9 mm", max = 10.1 }
               # ^^^^^^^^ missing-way: no way `under`
                               # ^^^^ missing-way: no way `over`
[[step]]
id = "b"
wait = "20 min"
ready = "It is hard."
up-to = "2 h"
      # ^^^^^ missing-way: the wait has an `up-to` and no way `not-ready`
"#,
    );
}

#[test]
fn a_field_too_long_is_told_and_not_read() {
    let long = "x".repeat(5000);
    let carets = "^".repeat(5002);
    check_guide(&format!(
        "[[step]]\nid = \"a\"\ndo = \"{long}\"\n  #  {carets} bad-value: `do` is longer than 4096 bytes\n"
    ));
}
