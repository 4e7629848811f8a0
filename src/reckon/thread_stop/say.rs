//! What `thread-stop` comes to, in words.

use super::{Correction, Found, Given, Hand, Off, Output};
use crate::units::Angle;

/// Holds whatever the sum says, or without one.
pub(super) const WITHOUT_A_SUM: &str = "Without a sum: close it, open it until the threads let go, mark the cap where the nib's top \
                             is, and set the clip there.";

pub(super) fn say(found: &Found, given: &Given, outputs: &[Output]) -> String {
    let mut said = Vec::new();
    match found.touches.as_deref() {
        Some("wood") => said.push(
            "Where the band meets wood the stop is not known until all is pressed home: press first, then find the \
             let-go."
                .to_owned(),
        ),
        None => said.push("Taken that metal meets metal when tight; wood moves the stop.".to_owned()),
        Some(_) => {}
    }
    said.extend(found.off.as_ref().map(|off| first_the_stop(off, found.hand, outputs)));
    said.push(match found.over_nib {
        true => format!(
            "Set the clip at {} from the cap's grain mark, finial end towards you: it comes over the nib {} past the \
             catch.",
            found.clip, found.lead_in
        ),
        false => {
            "Close the cap on its mark and set the clip over the best figure; where it comes over the nib is then \
                  as it falls."
                .to_owned()
        }
    });
    if given.has("turns") {
        said.push("An eighth of a turn wrong in the count is 45°: the let-go is surer.".to_owned());
    }
    let text = |name: &str| outputs.iter().find(|output| output.name == name && output.value.is_some());
    if let Some(slip) = text("slip") {
        let arc = text("slip-arc").map(|arc| format!(", {} at the clip", arc.text)).unwrap_or_default();
        said.push(format!("0.05\u{a0}mm of seat turns the stop by {}{arc}.", slip.text));
    }
    said.push(WITHOUT_A_SUM.to_owned());
    said.join(" ")
}

/// What to do about a stop off its mark, before the clip.
fn first_the_stop(off: &Off, hand: Hand, outputs: &[Output]) -> String {
    let Correction { other_start, rest } = off.correction;
    let back = match hand {
        Hand::Right => "anticlockwise",
        Hand::Left => "clockwise",
    };
    let apart = 360.0 / f64::from(off.starts);
    let begin = Angle::from_degrees(apart * f64::from(other_start)).map(|angle| angle.to_string()).unwrap_or_default();
    let text = |name: &str| outputs.iter().find(|output| output.name == name).map_or("", |output| output.text.as_str());
    let begin = (other_start > 0).then(|| format!("begin {begin} further back, {back}"));
    let change = match rest.degrees() {
        0.0 => None,
        0.0.. => Some(format!("add {} at the stop", text("stop-change"))),
        _ => Some(format!("take {} off the stop", text("stop-change").trim_start_matches('−'))),
    };
    let moves: Vec<String> = begin.into_iter().chain(change).collect();
    if moves.is_empty() {
        return "The stop is on its mark.".to_owned();
    }
    let keep = match other_start {
        0 => String::new(),
        _ => format!(" (to keep the thread start instead, a shim of {})", text("shim")),
    };
    format!("Correct the stop first: {}{keep}; find the let-go again, and then set the clip.", moves.join(" and "))
}

/// The sum in one line.
pub(super) fn working(found: &Found) -> String {
    let mut parts = Vec::new();
    if let (Some(lead), Some(starts)) = (found.thread.lead, found.thread.starts) {
        let word = if starts == 1 { "start" } else { "starts" };
        parts.push(format!("lead {lead}, {starts} {word}"));
    }
    parts.push(format!("stop-angle = {} = {}", found.how, found.stop));
    if let Some(Off { off, starts, correction: Correction { other_start, rest }, .. }) = &found.off {
        let over = off.degrees() - f64::from(*other_start) * 360.0 / f64::from(*starts) - rest.degrees();
        let whole = if over.abs() < 1.0 { "" } else { " and whole turns" };
        parts.push(format!("rest = {off} − {other_start} × 360° / {starts}{whole} = {rest}"));
    }
    if found.over_nib {
        let (plus, minus) = match found.hand {
            Hand::Right => ('+', '−'),
            Hand::Left => ('−', '+'),
        };
        let rest = found.off.as_ref().map(|off| format!(" {minus} {}", off.correction.rest)).unwrap_or_default();
        let (nib, stop, lead_in) = (found.nib.to_angle(), found.stop, found.lead_in);
        parts.push(format!("clip = {nib} {plus} {stop}{rest} {plus} {lead_in} = {}", found.clip));
    }
    parts.join("; ")
}
