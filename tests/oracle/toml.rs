//! Writes the model as the text of a guide file.
//!
//! Deliberately independent of the library: plain text put together by hand, as a person would write it.

use super::model::{Effects, Ending, Guide, Kind, Set, Step, Way};

/// Returns the guide file of `guide`, whose id is `g`.
pub fn render(guide: &Guide) -> String {
    let mut text = String::from("stepjig = 1\n\n[guide]\nid = \"g\"\ntitle = \"A guide made up for a test\"\n");
    text += &list("passing", &guide.passing);
    text += "\n[words]\n";
    for condition in guide.conditions().difference(&guide.unworded) {
        text += &format!("\"{condition}\" = \"the work is as in {condition}\"\n");
    }
    for step in &guide.steps {
        text += &render_step(guide, step);
    }
    text
}

fn render_step(guide: &Guide, step: &Step) -> String {
    let mut text = format!("\n[[step]]\nid = \"{}\"\n", step.id);
    match &step.kind {
        Kind::Do { then } => {
            let readings: String = step.reads.iter().map(|gauge| format!(" to {{read.{gauge}}}")).collect();
            text += &format!("do = \"Turn the piece{readings}.\"\n");
            text += &plain_way("then", then);
        }
        Kind::Ask { answers } => {
            text += "ask = \"Which of these do you see?\"\nanswers = [\n";
            for (n, way) in answers.iter().enumerate() {
                let say = ["amber", "birch", "cedar", "dogwood"][n];
                let rest: String = way_keys(way).iter().map(|key| format!(", {key}")).collect();
                text += &format!("  {{ say = \"{say}\"{rest} }},\n");
            }
            text += "]\n";
        }
        Kind::Gauge { min, max, within, under, over } => {
            let limits: Vec<&str> = [(min, "min = \"9.9 mm\""), (max, "max = \"10.1 mm\"")]
                .iter()
                .filter(|(on, _)| **on)
                .map(|l| l.1)
                .collect();
            text += "gauge = \"Measure the piece with a caliper.\"\nunit = \"mm\"\n";
            text += &format!("limits = {{ {} }}\n", limits.join(", "));
            text += &plain_way("within", within);
            text += &failing_way(guide, step, "under", under);
            text += &failing_way(guide, step, "over", over);
        }
        Kind::Wait { seconds, meanwhile, up_to, then, not_ready } => {
            text += &format!("wait = \"{}\"\nready = \"it is hard to the nail\"\n", duration(*seconds));
            text += if *meanwhile { "meanwhile = true\n" } else { "" };
            text += if *up_to { "up-to = \"12 h\"\n" } else { "" };
            text += &plain_way("then", then);
            text += &failing_way(guide, step, "not-ready", not_ready);
        }
        Kind::End(Ending::Finished) => text += "end = \"finished\"\n",
        Kind::End(Ending::Scrap) => text += "end = \"scrap\"\n",
    }
    text += &list("needs", &step.needs);
    text += &list("gives", &step.effects.gives);
    text += &list("spoils", &step.effects.spoils);
    text += &list("undoes", &step.effects.undoes);
    text += if step.one_way { "one-way = true\nif-wrong = \"Stop and look at it.\"\n" } else { "" };
    text += if step.optional { "optional = true\n" } else { "" };
    if let Some(seconds) = step.seconds {
        text += &format!("minutes = {}\n", seconds as f64 / 60.0);
    }
    text
}

/// A way that may be left out: nothing is written for the next step in the file and no effect.
fn plain_way(key: &str, way: &Way) -> String {
    match (&way.to, way.effects == Effects::default()) {
        (None, true) => String::new(),
        (Some(to), true) => format!("{key} = \"{to}\"\n"),
        _ => format!("{key} = {{ {} }}\n", way_keys(way).join(", ")),
    }
}

/// A way that says where it leads, since leaving it out means that there is none.
fn failing_way(guide: &Guide, step: &Step, key: &str, way: &Option<Way>) -> String {
    let Some(way) = way else { return String::new() };
    if *way == Way::default() { format!("{key} = \"{}\"\n", guide.next(step)) } else { plain_way(key, way) }
}

fn way_keys(way: &Way) -> Vec<String> {
    let to = way.to.iter().map(|to| format!("to = \"{to}\""));
    let Effects { gives, spoils, undoes } = &way.effects;
    let effects = [("gives", gives), ("spoils", spoils), ("undoes", undoes)].map(|(key, set)| list(key, set));
    to.chain(effects.into_iter().filter(|text| !text.is_empty()).map(|text| text.trim_end().to_owned())).collect()
}

fn list(key: &str, set: &Set) -> String {
    let quoted: Vec<String> = set.iter().map(|name| format!("\"{name}\"")).collect();
    if quoted.is_empty() { String::new() } else { format!("{key} = [{}]\n", quoted.join(", ")) }
}

fn duration(seconds: u64) -> String {
    match seconds {
        s if s % 3600 == 0 => format!("{} h", s / 3600),
        s if s % 60 == 0 => format!("{} min", s / 60),
        s => format!("{s} s"),
    }
}
