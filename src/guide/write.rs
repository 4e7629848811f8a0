//! Writes a linked guide as one self-contained file, as it is kept with a job.
//!
//! The file is flat: every step of every procedure under its full id, `linked = true` at the top. It reads and links
//! again to the same graph with nothing else at hand, today or in ten years.

use std::fmt::Write;

use super::document::KitValue;
use super::model::{Condition, EndKind, Guide, Kind, Label, Step, StepIdx, TroubleCall, Way};

/// Returns the text of the linked guide.
///
/// ```
/// use stepjig::finding::Source;
/// use stepjig::guide::{Library, write};
///
/// let library = Library::shipped();
/// let guide = library.link_id("two-tube-fountain").and_then(|linked| linked.guide).expect("shipped guides are clean");
/// let again = Library::empty().link(&Source::new("guide.toml", write::linked(&guide))).guide.expect("it links alone");
/// assert_eq!(again.len(), guide.len());
/// assert_eq!(write::linked(&again), write::linked(&guide));
/// ```
pub fn linked(guide: &Guide) -> String {
    let mut text = String::from("stepjig = 1\nlinked = true\n");
    for (path, value) in guide.kit() {
        let value = match value {
            KitValue::Text(words) => quoted(words),
            KitValue::Number(number) => number.to_string(),
        };
        line(&mut text, path, &value);
    }
    if !guide.measured().is_empty() {
        line(&mut text, "measured", &list(guide.measured().iter().map(String::as_str)));
    }
    text.push_str("\n[guide]\n");
    line(&mut text, "id", &quoted(guide.id()));
    line(&mut text, "title", &quoted(guide.title()));
    let opening = [
        ("edition", guide.edition()),
        ("use-when", guide.use_when()),
        ("not-when", guide.not_when()),
        ("kept-by", guide.document().kept_by.as_deref()),
    ];
    for (key, value) in opening {
        if let Some(value) = value {
            line(&mut text, key, &quoted(value));
        }
    }
    if let Some(care) = guide.document().care.as_ref().filter(|_| guide.care().is_some()) {
        line(&mut text, "care", &quoted(&care.name.value));
    }
    line(&mut text, "passing", &list(by_name(guide, guide.passing().iter()).into_iter()));
    text.push_str("\n[words]\n");
    for name in by_name(guide, guide.conditions()) {
        let Some(condition) = guide.condition(name) else { continue };
        if let Some(words) = guide.words(condition) {
            line(&mut text, &as_text(guide.name(condition)), &as_text(words));
        }
    }
    for (idx, step) in guide.steps() {
        text.push_str("\n[[step]]\n");
        write_step(&mut text, guide, idx, step);
    }
    for (care, (idx, step)) in guide.care().into_iter().flat_map(|care| care.steps().map(move |step| (care, step))) {
        text.push_str("\n[[care]]\n");
        write_step(&mut text, care, idx, step);
    }
    text
}

fn write_step(text: &mut String, guide: &Guide, idx: StepIdx, step: &Step) {
    line(text, "id", &quoted(&step.id));
    if let Some(stage) = &step.stage {
        line(text, "stage", &as_text(stage));
    }
    write_kind(text, guide, step);
    for (key, mentions) in
        [("needs", &step.needs), ("gives", &step.gives), ("spoils", &step.spoils), ("undoes", &step.undoes)]
    {
        names(text, key, guide, mentions.iter().map(|mention| mention.condition));
    }
    for (key, on) in [("one-way", step.one_way), ("optional", step.optional)] {
        if on {
            line(text, key, "true");
        }
    }
    for (key, words) in [("if-wrong", &step.if_wrong), ("why", &step.why), ("tell", &step.tell), ("at", &step.at)] {
        if let Some(words) = words {
            line(text, key, &quoted(words));
        }
    }
    if step.minutes > 0.0 {
        line(text, "minutes", &step.minutes.to_string());
    }
    if !step.parts.is_empty() {
        line(text, "parts", &list(step.parts.iter().map(String::as_str)));
    }
    if !step.cautions.is_empty() {
        let rows = step.cautions.iter().map(|caution| {
            format!(
                "{{ level = {}, hazard = {}, avoid = {} }}",
                quoted(&caution.level.signal_word().to_lowercase()),
                quoted(&caution.hazard.value),
                quoted(&caution.avoid.value)
            )
        });
        line(text, "caution", &format!("[{}]", rows.collect::<Vec<_>>().join(", ")));
    }
    if !step.trouble.is_empty() {
        let calls: Vec<String> = step.trouble.iter().map(trouble).collect();
        line(text, "trouble", &format!("[{}]", calls.join(", ")));
    }
    if !step.clock.is_empty() {
        line(text, "clock", &table(step.clock.iter().map(|(mark, at)| (mark.as_str(), at.as_str()))));
    }
    write_ways(text, guide, idx, step);
}

fn write_kind(text: &mut String, guide: &Guide, step: &Step) {
    match &step.kind {
        Kind::Do { in_one_go } => {
            line(text, "do", &quoted(&step.text));
            if !in_one_go.is_empty() {
                line(text, "in-one-go", &list(in_one_go.iter().map(String::as_str)));
            }
        }
        Kind::Ask => line(text, "ask", &quoted(&step.text)),
        Kind::Gauge { unit, min, max, sets, .. } => {
            line(text, "gauge", &quoted(&step.text));
            line(text, "unit", &quoted(unit));
            let limits = [("min", min), ("max", max)].into_iter().filter_map(|(key, limit)| {
                let limit = limit.as_ref()?;
                Some(format!("{key} = {}", if limit.parse::<f64>().is_ok() { limit.clone() } else { quoted(limit) }))
            });
            let limits: Vec<String> = limits.collect();
            line(text, "limits", &format!("{{ {} }}", limits.join(", ")));
            if let Some(sets) = sets {
                line(text, "sets", &quoted(sets));
            }
        }
        Kind::Reckon { from } => {
            line(text, "reckon", &quoted(&step.text));
            if !from.is_empty() {
                line(text, "from", &table(from.iter().map(|(key, value)| (key.as_str(), value.as_str()))));
            }
        }
        Kind::Wait(pause) => {
            line(text, "wait", &quoted(&format!("{} min", pause.minutes)));
            line(text, "ready", &quoted(&pause.ready));
            if let Some(what) = &pause.waiting_for {
                line(text, "for", &quoted(what));
            }
            if let Some(up_to) = pause.up_to {
                line(text, "up-to", &quoted(&format!("{up_to} min")));
            }
            if pause.meanwhile {
                line(text, "meanwhile", "true");
            }
        }
        Kind::Run => line(text, "run", &quoted(&step.text)),
        Kind::Return { run } => {
            line(text, "end", "\"return\"");
            line(text, "of", &quoted(&guide.step(*run).id));
        }
        Kind::End(EndKind::Finished) => line(text, "end", "\"finished\""),
        Kind::End(EndKind::Scrap) => line(text, "end", "\"scrap\""),
        Kind::End(EndKind::NotFixed) => line(text, "end", "\"not-fixed\""),
    }
}

fn write_ways(text: &mut String, guide: &Guide, idx: StepIdx, step: &Step) {
    let (mut answers, mut verdicts) = (Vec::new(), Vec::new());
    let skip_to = guide.ways_out(idx).iter().find(|way| way.label == Label::Skip).and_then(|way| way.to);
    for way in guide.ways_out(idx) {
        let fields = way_fields(guide, idx, step, way);
        let as_table = format!("{{ {} }}", fields.join(", "));
        match &way.label {
            Label::Answer(say) => {
                let say = std::iter::once(format!("say = {}", quoted(say)));
                answers.push(format!("  {{ {} }},\n", say.chain(fields).collect::<Vec<_>>().join(", ")));
            }
            Label::Verdict(verdict) => verdicts.push(format!("{} = {as_table}", quoted(verdict))),
            // The skip follows the good way; a run's return, where it differs, is what the skip leads to.
            Label::Skip => {}
            label => {
                let key = match label {
                    Label::Within => "within",
                    Label::Under => "under",
                    Label::Over => "over",
                    Label::NotReady => "not-ready",
                    _ => "then",
                };
                line(text, key, &as_table);
            }
        }
    }
    if let (Kind::Run, Some(to)) = (&step.kind, skip_to) {
        line(text, "skip-to", &quoted(&guide.step(to).id));
    }
    if !answers.is_empty() {
        line(text, "answers", &format!("[\n{}]", answers.concat()));
    }
    if !verdicts.is_empty() {
        line(text, "verdicts", &format!("{{ {} }}", verdicts.join(", ")));
    }
}

/// Returns a way's fields, without what its step already says.
fn way_fields(guide: &Guide, idx: StepIdx, step: &Step, way: &Way) -> Vec<String> {
    let mut fields = Vec::new();
    if let Some(to) = way.to {
        fields.push(format!("to = {}", quoted(&guide.step(to).id)));
    }
    if let Some(call) = &way.trouble {
        fields.push(format!("trouble = {}", trouble(call)));
    }
    let read = match guide.step(idx).kind {
        Kind::Gauge { read, .. } => Some(read),
        _ => None,
    };
    // What a way removes is what its step removes, and behind that its own.
    let removes = way.removes.get(step.spoils.len()..).unwrap_or_default();
    let undoes = way.undoes.get(step.undoes.len() + usize::from(read.is_some())..).unwrap_or_default();
    let mut gives = way.gives.clone();
    // Where the way removes something, all that it gives is said again after it.
    if removes.is_empty() && undoes.is_empty() {
        let of_step = |given: &Condition| step.gives.iter().any(|mention| mention.condition == *given);
        let gives_own = way.trouble.is_none() && way.label.gives_own();
        gives.retain(|given| Some(*given) != read && !(gives_own && of_step(given)));
    }
    for (key, conditions) in [("gives", &*gives), ("spoils", removes), ("undoes", undoes)] {
        if !conditions.is_empty() {
            fields.push(format!("{key} = {}", list(by_name(guide, conditions.iter().copied()).into_iter())));
        }
    }
    fields
}

fn trouble(call: &TroubleCall) -> String {
    if call.with.is_empty() {
        return quoted(&call.table);
    }
    let with = call.with.iter().map(|(key, value)| format!("{} = {}", quoted(key), as_text(value)));
    let with = format!("{{ {} }}", with.collect::<Vec<_>>().join(", "));
    format!("{{ table = {}, with = {with} }}", quoted(&call.table))
}

fn names(text: &mut String, key: &str, guide: &Guide, conditions: impl Iterator<Item = Condition>) {
    let names: Vec<&str> = conditions.map(|condition| guide.name(condition)).collect();
    if !names.is_empty() {
        line(text, key, &list(names.into_iter()));
    }
}

/// Returns conditions by name, sorted: their numbers differ from one link to the next.
fn by_name(guide: &Guide, conditions: impl IntoIterator<Item = Condition>) -> Vec<&str> {
    let mut names: Vec<&str> = conditions.into_iter().map(|condition| guide.name(condition)).collect();
    names.sort_unstable();
    names
}

fn table<'a>(pairs: impl Iterator<Item = (&'a str, &'a str)>) -> String {
    let pairs: Vec<String> = pairs.map(|(key, value)| format!("{} = {}", quoted(key), quoted(value))).collect();
    format!("{{ {} }}", pairs.join(", "))
}

pub(crate) fn list<'a>(items: impl Iterator<Item = &'a str>) -> String {
    format!("[{}]", items.map(quoted).collect::<Vec<_>>().join(", "))
}

/// Returns words in which a brace is a brace, for a place where it would begin a reference.
pub(crate) fn as_text(words: &str) -> String {
    quoted(&words.replace('{', "{{"))
}

pub(crate) fn quoted(words: &str) -> String {
    // A JSON string is a TOML 1.0 basic string but for the raw DEL, which TOML wants escaped.
    serde_json::Value::from(words).to_string().replace('\u{7f}', "\\u007F")
}

fn line(text: &mut String, key: &str, value: &str) {
    writeln!(text, "{key} = {value}").expect("writing to a string cannot fail");
}
