//! What is proposed for a part, what lies loose, and whether a part that goes in wrong still has a way out.

use stepjig::draft::{Answers, Asked, Interview, write};
use stepjig::guide::{Guide, Kind};

use super::styles::{FILES, answers};
use super::{assert_clean, by_proposals, checked};

/// Answers that were said, on top of those of a kind of pen.
fn said(style: [&str; 3], pairs: &[(&str, &str)]) -> Answers {
    let mut answers = Answers::default();
    for (key, said) in ["tubes", "closes", "writes"].into_iter().zip(style).chain(pairs.iter().copied()) {
        answers.set(key, said.to_owned());
    }
    answers
}

/// Returns what is proposed to a question once those before it are answered by what is proposed there.
fn proposed(mut answers: Answers, key: &str) -> Option<String> {
    loop {
        let interview = Interview::of(&answers);
        let question = interview.next().unwrap_or_else(|| panic!("{key} is never asked"));
        if question.key == key {
            return question.proposal.clone();
        }
        answers.set(&question.key, question.any_answer());
    }
}

fn guide(answers: &Answers) -> Guide {
    checked(&write(&Interview::of(answers).build)).guide.expect("it links")
}

/// Returns the conditions that a step of the guide asks for.
fn needs(guide: &Guide, step: &str) -> Vec<String> {
    let idx = guide.step_of_id(step).unwrap_or_else(|| panic!("there is no step {step}"));
    guide.step(idx).needs.iter().map(|need| guide.name(need.condition).to_owned()).collect()
}

fn place(guide: &Guide, step: &str) -> usize {
    guide.step_of_id(step).unwrap_or_else(|| panic!("there is no step {step}")).index()
}

/// What is pressed is not taken out where a loose part is mended; a part is called by its own word.
#[test]
fn a_tip_that_is_pressed_stays_in_where_the_refill_comes_out() {
    let click = ["two", "click", "ballpoint refill"];
    for (parts, writer) in
        [("tip part, coupler, mechanism", "the refill"), ("coupler, mechanism", "tip part with refill")]
    {
        let mut answers = said(click, &[]);
        while let Some(question) = Interview::of(&answers).next() {
            let answer = if question.key == "parts" { parts.to_owned() } else { question.any_answer() };
            answers.set(&question.key, question.read(&answer).expect("it is an answer"));
        }
        let text = write(&Interview::of(&answers).build);
        assert!(text.contains(&format!("writer = \"{writer}\"")), "{parts}: {text}");
        assert!(!text.contains("tip-part"), "{text}");
    }
}

/// A part's end is proposed by its name and by what is free: common practice, no source.
#[test]
fn an_end_is_proposed_by_the_parts_name_and_what_is_free_else_none() {
    let fountain = ["two", "threaded cap", "nib"];
    let twist = ["two", "twist", "ballpoint refill"];
    let click = ["two", "click", "ballpoint refill"];
    let one = ["one", "push cap", "rollerball"];
    for (style, parts, part, end) in [
        (fountain, "tail-finial, coupler, thread, clip", "tail-finial", Some("the body's tail end")),
        (fountain, "tail, coupler, thread, cap-finial", "cap-finial", Some("the cap's finial end")),
        // Named after no end, it goes where nothing is yet.
        (fountain, "tail, coupler, thread, jewel", "jewel", Some("the cap's finial end")),
        (fountain, "tail, jewel", "jewel", None),
        (fountain, "finial, clip", "clip", None),
        (twist, "tip, mechanism, clip", "mechanism", Some("the lower's band end")),
        (twist, "finial, tip", "tip", Some("the lower's tip end")),
        (click, "tip, coupler, mechanism", "coupler", Some("the lower's band end")),
        (click, "tip, coupler, mechanism", "mechanism", Some("the upper's clip end")),
        (one, "tail, finial", "finial", Some("the barrel's grip end")),
        (one, "finial", "finial", None),
    ] {
        let found = proposed(said(style, &[("parts", parts)]), &format!("part.{part}.into"));
        assert_eq!(found.as_deref(), end, "{part} of {parts}");
    }
    // A clip goes over a mechanism into the same end.
    let click = said(["one", "click", "ballpoint refill"], &[("parts", "coupler, mechanism, clip")]);
    assert_eq!(proposed(click, "part.clip.into").as_deref(), Some("the barrel's clip end"));
}

#[test]
fn where_nothing_is_proposed_enter_is_told_what_to_say() {
    let home = super::home::Home::new("draft-nothing-proposed");
    let lines = "two\nthreaded cap\nnib\n\n\n\n\n\n\n\n\n\n\njewel, tail\n\n2\n";
    let told = super::verb::said(&home.run(&["draft", "raffle"], lines));
    assert!(told.contains("Nothing is proposed here") && told.contains("the cap's finial end"), "{told}");
    let kept = std::fs::read_to_string(super::verb::kept(&home, "raffle")).expect("it is kept");
    assert!(kept.contains("part.jewel.into = \"the body's tail end\""), "{kept}");
}

/// A spring lost is a classic: common practice, no source.
#[test]
fn what_is_loose_is_boxed_at_the_start_and_in_its_place_before_anything_closes_over_it() {
    let rollerball = said(["two", "threaded cap", "rollerball"], &[]);
    assert_eq!(proposed(rollerball, "loose").as_deref(), Some("spring"));
    for (name, loose, closes) in [
        ("two-tube-rollerball", "spring", "write"),
        ("click-one-tube", "spring", "press-mechanism"),
        ("twist-two-tube", "band", "join"),
        ("push-cap-fountain", "sleeve", "press-band"),
    ] {
        let text = FILES.iter().find(|(file, _)| *file == name).expect("it is there").1;
        let guide = guide(&answers(name, text));
        assert!(place(&guide, "box-loose") < place(&guide, "choose-blank"), "{name}");
        assert!(place(&guide, &format!("put-{loose}")) < place(&guide, closes), "{name}");
        assert!(needs(&guide, closes).contains(&format!("{loose}.in-place")), "{name}: {:?}", needs(&guide, closes));
    }
    // Whoever says that there is none is asked nothing about it, and told nothing.
    let none = by_proposals(said(["two", "twist", "ballpoint refill"], &[("loose", "none")]));
    assert!(guide(&none).step_of_id("box-loose").is_none());
    let asked = Interview::of(&none).questions.into_iter().any(|question| question.key.ends_with("held-by"));
    assert!(!asked);
}

#[test]
fn a_loose_part_is_held_by_any_part_that_is_pressed_or_by_the_halves() {
    let answers = said(
        ["two", "click", "ballpoint refill"],
        &[("loose", "front-ring, spring, washer"), ("part.washer.held-by", "the tip")],
    );
    assert_eq!(proposed(answers.clone(), "part.front-ring.held-by").as_deref(), Some("the two halves"));
    assert_eq!(proposed(answers.clone(), "part.spring.held-by").as_deref(), Some("the refill"));
    let answers = by_proposals(answers);
    assert_clean(&answers, "loose parts of all kinds");
    let interview = Interview::of(&answers);
    let Asked::Choice(choices) = &interview.question("part.washer.held-by").expect("it is asked").asked else {
        panic!("it is no choice");
    };
    assert_eq!(choices, &["the refill", "the two halves", "the tip", "the coupler", "the mechanism"]);
    let guide = guide(&answers);
    assert!(needs(&guide, "press-tip").contains(&"washer.in-place".to_owned()));
    assert!(needs(&guide, "join").contains(&"front-ring.in-place".to_owned()));
}

#[test]
fn a_rod_is_asked_after_only_where_something_is_in_its_way() {
    let asked = |answers: &Answers| -> Vec<String> {
        let keys = Interview::of(answers).questions.into_iter().map(|question| question.key);
        keys.filter(|key| key.ends_with(".rod")).collect()
    };
    let twist = by_proposals(said(["two", "twist", "ballpoint refill"], &[]));
    // The clip goes into the other piece, which is open.
    assert_eq!(asked(&twist), ["part.mechanism.rod"]);
    let drawn = by_proposals(said(
        ["two", "twist", "ballpoint refill"],
        &[("part.mechanism.out", "drawn by what screws into it")],
    ));
    assert_eq!(asked(&drawn), Vec::<String>::new());
    let click = by_proposals(said(["one", "click", "ballpoint refill"], &[]));
    assert_eq!(asked(&click), ["part.mechanism.rod", "part.clip.rod"]);
    let question = Interview::of(&click).question("part.clip.rod").cloned().expect("it is asked");
    assert!(question.asks.contains("coupler and mechanism are in the barrel"), "{}", question.asks);
}

#[test]
fn a_part_without_a_way_out_is_told_as_such_at_the_hold_and_before_the_press() {
    for (rod, told) in [
        ("yes, a thin one", "It comes out by this way: a thin rod through the tip part."),
        (
            "no",
            "It comes out by this way: by hand while 1 mm in; once home it does not come out, for the tip part closes \
             the way.",
        ),
    ] {
        let pairs = [("part.mechanism.rod", rod)];
        let answers = by_proposals(said(["two", "twist", "ballpoint refill"], &pairs));
        assert_clean(&answers, rod);
        let guide = guide(&answers);
        let press = guide.step(guide.step_of_id("press-mechanism/press").expect("it is pressed"));
        // What `if-wrong` says stands at the hold before the step.
        assert!(
            press.one_way && press.if_wrong.as_deref().is_some_and(|text| text.contains(told)),
            "{:?}",
            press.if_wrong
        );
        let way = told.trim_start_matches("It comes out by this way: ");
        let read_aloud = guide.step(guide.step_of_id("ready-press/read-ways-out").expect("it is told")).tell.clone();
        assert!(read_aloud.is_some_and(|text| text.contains(&format!("The mechanism: {way}"))));
    }
}

/// A procedure that tells of an open end is not run where that end is closed.
#[test]
fn a_cap_whose_far_end_is_closed_is_not_told_of_an_open_one() {
    let first = [("parts", "tail, coupler, clip, thread"), ("part.thread.rod", "no")];
    let answers = by_proposals(said(["two", "threaded cap", "rollerball"], &first));
    assert_clean(&answers, "the clip before the thread part");
    let text = write(&Interview::of(&answers).build);
    assert!(!text.contains("press-cap-thread") && text.contains("for the clip closes the way"), "{text}");
    let usual = by_proposals(said(["two", "threaded cap", "rollerball"], &[]));
    assert!(write(&Interview::of(&usual).build).contains("press-cap-thread"));
}

/// A piece that has to be made anew leaves what is pressed into the other as it is: a press needs what is in its own.
#[test]
fn a_press_rests_on_its_own_piece() {
    let guide = guide(&by_proposals(said(["two", "twist", "ballpoint refill"], &[])));
    assert!(needs(&guide, "press-mechanism").contains(&"tip.pressed".to_owned()));
    assert!(!needs(&guide, "press-clip").iter().any(|need| need == "tip.pressed" || need == "mechanism.pressed"));
}

/// What sets a pushed cap is come at through its far end: common practice, no source.
#[test]
fn a_pushed_cap_is_tried_before_its_far_end_is_closed() {
    let guide = guide(&by_proposals(said(["two", "push cap", "nib"], &[])));
    assert!(place(&guide, "cap-holds") < place(&guide, "press-clip"));
    assert!(needs(&guide, "press-clip").contains(&"closing.holds".to_owned()));
    let ask = guide.step(guide.step_of_id("cap-holds").expect("it is asked"));
    assert_eq!(ask.kind, Kind::Ask);
    let to: Vec<String> = guide
        .ways_out(guide.step_of_id("cap-holds").expect("it is asked"))
        .iter()
        .filter_map(|way| way.to.map(|to| guide.step(to).id.to_string()))
        .collect();
    assert_eq!(to[1..], ["tighter", "looser", "push-cap"]);
}

/// A top part on the mechanism of a pen with one tube, its clip to the mark.
#[test]
fn a_top_part_is_pushed_on_by_hand_where_there_is_one() {
    let one = ["one", "twist", "ballpoint refill"];
    for (top, has_top, has_mark) in [
        ("a top part with its clip", true, true),
        ("a top part without a clip", true, false),
        ("nothing", false, false),
    ] {
        let answers = by_proposals(said(one, &[("top", top)]));
        assert_clean(&answers, top);
        let guide = guide(&answers);
        assert_eq!(guide.step_of_id("top-on").is_some(), has_top, "{top}");
        assert_eq!(guide.step_of_id("mark-clip").is_some(), has_mark, "{top}");
    }
    assert_eq!(proposed(said(one, &[]), "top").as_deref(), Some("a top part with its clip"));
    assert_eq!(proposed(said(one, &[("parts", "tip, mechanism, clip")]), "top").as_deref(), Some("nothing"));
}

/// A figure that was said is proposed again where another kind of pen calls its piece otherwise.
#[test]
fn a_figure_is_not_lost_when_the_kind_of_pen_is_put_right() {
    let mut answers = said(["two", "twist", "ballpoint refill"], &[("lower.drill", "7 mm"), ("upper.length", "53 mm")]);
    answers.set("closes", "threaded cap".to_owned());
    assert_eq!(proposed(answers.clone(), "body.drill").as_deref(), Some("7 mm"));
    assert_eq!(proposed(answers.clone(), "cap.length").as_deref(), Some("53 mm"));
    answers.set("closes", "twist".to_owned());
    assert_eq!(answers.get("lower.drill"), Some("7 mm"));
}
