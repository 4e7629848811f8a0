//! What is different about one step.

use super::pairs::Pairs;
use super::{Difference, What, was_is};
use crate::guide::{Condition, Guide, Kind, Label, Mention, Pause, StepIdx, TroubleCall, Way};

pub(super) fn compare(
    pairs: &Pairs,
    (old, before): (&Guide, StepIdx),
    (new, after): (&Guide, StepIdx),
    found: &mut Vec<Difference>,
) {
    let (was, is) = (old.step(before), new.step(after));
    let mut tell = |what, said: String| {
        found.push(Difference { what, order: after.index(), step: Some(is.id.to_string()), said });
    };
    match (was.one_way, is.one_way) {
        (false, true) => tell(What::BecameOneWay, "it cannot be taken back now".to_owned()),
        (true, false) => tell(What::NoLongerOneWay, "it can be taken back now".to_owned()),
        _ => {}
    }
    let list = |guide: &Guide, mentions: &[Mention]| -> Vec<(String, String)> {
        let named = |mention: &Mention| (guide.name(mention.condition).to_owned(), guide.said(mention.condition));
        mentions.iter().map(named).collect()
    };
    let lists = [
        (
            &was.needs,
            &is.needs,
            What::NeedGone,
            "no longer asked for before it",
            What::NeedCame,
            "now asked for before it",
        ),
        (&was.gives, &is.gives, What::Effects, "no longer true after it", What::Effects, "now true after it"),
        (&was.spoils, &is.spoils, What::Effects, "no longer spoiled by it", What::Effects, "now spoiled by it"),
        (&was.undoes, &is.undoes, What::Effects, "no longer undone by it", What::Effects, "now undone by it"),
    ];
    for (was, is, gone, no_longer, came, now) in lists {
        let (was, is) = (list(old, was), list(new, is));
        let not_in = |one: &[(String, String)], name: &str| one.iter().all(|(known, _)| known != name);
        for (_, said) in was.iter().filter(|(name, _)| not_in(&is, name)) {
            tell(gone, format!("{no_longer}: {said}"));
        }
        for (_, said) in is.iter().filter(|(name, _)| not_in(&was, name)) {
            tell(came, format!("{now}: {said}"));
        }
    }
    for caution in was.cautions.iter().filter(|caution| !is.cautions.iter().any(|other| alike(caution, other))) {
        tell(What::CautionGone, format!("{}: {}; {}", word(caution), caution.hazard.value, caution.avoid.value));
    }
    for caution in is.cautions.iter().filter(|caution| !was.cautions.iter().any(|other| alike(caution, other))) {
        tell(What::CautionCame, format!("{}: {}; {}", word(caution), caution.hazard.value, caution.avoid.value));
    }
    if was.text != is.text {
        tell(What::Text, was_is("it", &was.text, &is.text));
    }
    kind(&was.kind, &is.kind, &mut tell);
    let not = |text: &Option<String>| text.clone().unwrap_or_else(|| "not said".to_owned());
    let texts = [
        ("if it goes wrong", not(&was.if_wrong), not(&is.if_wrong)),
        ("why", not(&was.why), not(&is.why)),
        ("the note", not(&was.tell), not(&is.tell)),
        ("the place", not(&was.at), not(&is.at)),
        ("the stage", not(&was.stage.as_deref().map(str::to_owned)), not(&is.stage.as_deref().map(str::to_owned))),
        ("the minutes", was.minutes.to_string(), is.minutes.to_string()),
        ("to have at hand", was.parts.join(", "), is.parts.join(", ")),
        ("may be skipped", yes_no(was.optional), yes_no(is.optional)),
        ("the clock", pairs_told(&was.clock), pairs_told(&is.clock)),
        ("the fault tables", calls(&was.trouble), calls(&is.trouble)),
    ];
    for (what, before, after) in texts.into_iter().filter(|(_, before, after)| before != after) {
        tell(What::Other, was_is(what, &before, &after));
    }
    ways(pairs, (old, before), (new, after), &mut tell);
}

fn alike(one: &crate::guide::document::Caution, other: &crate::guide::document::Caution) -> bool {
    (one.level, &one.hazard.value, &one.avoid.value) == (other.level, &other.hazard.value, &other.avoid.value)
}

fn word(caution: &crate::guide::document::Caution) -> &'static str {
    let words = crate::guide::Level::WORDS;
    words.into_iter().find(|(_, level)| *level == caution.level).map_or("caution", |(word, _)| word)
}

fn yes_no(yes: bool) -> String {
    if yes { "yes" } else { "no" }.to_owned()
}

fn pairs_told(pairs: &[(String, String)]) -> String {
    pairs.iter().map(|(name, value)| format!("{name} {value}")).collect::<Vec<_>>().join(", ")
}

fn calls(calls: &[TroubleCall]) -> String {
    calls.iter().map(call).collect::<Vec<_>>().join(", ")
}

fn call(call: &TroubleCall) -> String {
    format!("{} {}", call.table, pairs_told(&call.with)).trim_end().to_owned()
}

fn kind(was: &Kind, is: &Kind, tell: &mut impl FnMut(What, String)) {
    match (was, is) {
        (Kind::Do { in_one_go: was }, Kind::Do { in_one_go: is }) if was != is => {
            tell(What::Text, was_is("in one go", &was.join(" "), &is.join(" ")));
        }
        (
            Kind::Gauge { unit, min, max, sets, .. },
            Kind::Gauge { unit: new_unit, min: new_min, max: new_max, sets: new_sets, .. },
        ) => {
            let not = |text: &Option<String>| text.clone().unwrap_or_else(|| "none".to_owned());
            let rows = [
                ("the lowest good reading", not(min), not(new_min)),
                ("the highest good reading", not(max), not(new_max)),
                ("the unit", unit.clone(), new_unit.clone()),
                ("the kit number that it becomes", not(sets), not(new_sets)),
            ];
            for (what, before, after) in rows.into_iter().filter(|(_, before, after)| before != after) {
                tell(What::Limits, was_is(what, &before, &after));
            }
        }
        (Kind::Wait(was), Kind::Wait(is)) => wait(was, is, tell),
        (Kind::Reckon { from: was }, Kind::Reckon { from: is }) if was != is => {
            tell(What::Other, was_is("what the sum is given", &pairs_told(was), &pairs_told(is)));
        }
        (Kind::End(was), Kind::End(is)) if was != is => tell(What::Other, "it is another end".to_owned()),
        (was, is) if std::mem::discriminant(was) != std::mem::discriminant(is) => {
            tell(What::Other, format!("it was {}, it is {}", kind_word(was), kind_word(is)));
        }
        _ => {}
    }
}

fn kind_word(kind: &Kind) -> &'static str {
    match kind {
        Kind::Do { .. } => "an action",
        Kind::Ask => "a question",
        Kind::Gauge { .. } => "a reading",
        Kind::Reckon { .. } => "a sum",
        Kind::Wait(_) => "a wait",
        Kind::Run => "a procedure",
        Kind::Return { .. } => "the end of a procedure",
        Kind::End(_) => "an end",
    }
}

fn wait(was: &Pause, is: &Pause, tell: &mut impl FnMut(What, String)) {
    let minutes = |minutes: f64| format!("{minutes} min");
    if was.minutes != is.minutes {
        let what = if is.minutes < was.minutes { What::WaitShorter } else { What::WaitLonger };
        tell(what, was_is("the wait", &minutes(was.minutes), &minutes(is.minutes)));
    }
    let not = |text: &Option<String>| text.clone().unwrap_or_else(|| "not said".to_owned());
    let most = |up_to: Option<f64>| up_to.map_or("none".to_owned(), minutes);
    let rows = [
        (What::Text, "the sign that it is over", was.ready.clone(), is.ready.clone()),
        (What::Text, "what is waited for", not(&was.waiting_for), not(&is.waiting_for)),
        (What::Other, "the longest wait", most(was.up_to), most(is.up_to)),
        (What::Other, "other work goes on meanwhile", yes_no(was.meanwhile), yes_no(is.meanwhile)),
    ];
    for (what, name, before, after) in rows.into_iter().filter(|(_, _, before, after)| before != after) {
        tell(what, was_is(name, &before, &after));
    }
}

/// What is compared of a way; its own part of the effects only, the step's are told apart.
fn ways(
    pairs: &Pairs,
    (old, before): (&Guide, StepIdx),
    (new, after): (&Guide, StepIdx),
    tell: &mut impl FnMut(What, String),
) {
    let (was, is) = (old.ways_out(before), new.ways_out(after));
    for way in was {
        let Some(other) = is.iter().find(|other| other.label == way.label) else {
            tell(What::Ways, format!("it can no longer be left by {}", label(&way.label)));
            continue;
        };
        let same = match (way.to, other.to) {
            (Some(before), Some(after)) => pairs.new_of(before) == Some(after),
            (None, None) => way.trouble == other.trouble,
            _ => false,
        };
        // The next step in the file is another where a step came or went between; that is told by itself.
        let falls_through = |way: &Way| way.to.is_some_and(|to| to.index() == way.from.index() + 1);
        if !(same || falls_through(way) && falls_through(other)) {
            let what = format!("{} leads", label(&way.label));
            tell(What::Ways, was_is(&what, &target(old, way), &target(new, other)));
        }
        let own = |guide: &Guide, way: &Way, idx: StepIdx| {
            let step = guide.step(idx);
            let of_step: Vec<Condition> = [&step.gives, &step.spoils, &step.undoes]
                .into_iter()
                .flatten()
                .map(|mention| mention.condition)
                .collect();
            [&way.gives, &way.removes, &way.undoes].map(|list| {
                let own = list.iter().filter(|one| !of_step.contains(one));
                let mut named: Vec<(String, String)> =
                    own.map(|one| (guide.name(*one).to_owned(), guide.said(*one))).collect();
                named.sort();
                // By name they differ, in words they are told; other words alone are told by themselves.
                named.into_iter().unzip::<_, _, Vec<_>, Vec<_>>()
            })
        };
        let (before_own, after_own) = (own(old, way, before), own(new, other, after));
        for (what, (before, after)) in
            ["is true", "is no longer true", "is undone"].iter().zip(before_own.iter().zip(&after_own))
        {
            if before.0 != after.0 {
                let what = format!("after {} {what}", label(&way.label));
                let not = |said: &[String]| if said.is_empty() { "nothing".to_owned() } else { said.join(", ") };
                tell(What::Effects, was_is(&what, &not(&before.1), &not(&after.1)));
            }
        }
    }
    for way in is.iter().filter(|way| !was.iter().any(|other| other.label == way.label)) {
        tell(What::Ways, format!("it can now be left by {}, to {}", label(&way.label), target(new, way)));
    }
}

fn target(guide: &Guide, way: &Way) -> String {
    match (&way.to, &way.trouble) {
        (Some(to), _) => format!("`{}`", guide.step(*to).id),
        (None, Some(trouble)) => format!("the fault table `{}`", call(trouble)),
        (None, None) => "nowhere".to_owned(),
    }
}

fn label(label: &Label) -> String {
    match label {
        Label::Then => "going on".to_owned(),
        Label::Answer(words) => format!("the answer \"{words}\""),
        Label::Within => "a good reading".to_owned(),
        Label::Under => "a low reading".to_owned(),
        Label::Over => "a high reading".to_owned(),
        Label::Ready => "being ready".to_owned(),
        Label::NotReady => "not being ready".to_owned(),
        Label::Verdict(verdict) => format!("the verdict `{verdict}`"),
        Label::Skip => "skipping it".to_owned(),
    }
}
