//! Reads the reference tables under `tests/data/diagnosis` in their own file form.

#![allow(dead_code, reason = "each test uses its part")]

pub mod naive;
pub mod random;

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde_json::Value;
use stepjig::trouble::findings::Findings;
use stepjig::trouble::plan::{Budget, Policy, compile};
use stepjig::trouble::problem::{
    ByCause, CauseDraft, CheckDraft, Draft, Effect, Goal, OutcomeDraft, Problem, RemedyDraft, StartOverDraft,
};

/// The names of all reference tables, goal by goal.
pub const IDENTIFY: [&str; 6] =
    ["pattipati-1990", "casebase-1999-table1", "casebase-1999-table3", "focused-tests", "chest-clinic", "sawn-blank"];
pub const FIX: [&str; 7] =
    ["start-problem", "own-repair", "own-repair-with-check", "pc-trap", "two-looks", "stuck-tube", "printer-no-output"];

/// A table with the answers that stand beside it.
pub struct Reference {
    pub name: &'static str,
    pub draft: Draft,
    pub problem: Problem,
    pub expect: Value,
}

pub fn reference(name: &'static str) -> Reference {
    let path = format!("{}/tests/data/diagnosis/{name}.json", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).unwrap_or_else(|wrong| panic!("{path}: {wrong}"));
    let table: Value = serde_json::from_str(&text).unwrap_or_else(|wrong| panic!("{path}: {wrong}"));
    let draft = draft(&table);
    let problem = Problem::new(&draft).unwrap_or_else(|faults| panic!("{name}: {faults:?}"));
    Reference { name, draft, problem, expect: table["expect"].clone() }
}

pub fn all() -> impl Iterator<Item = Reference> {
    IDENTIFY.into_iter().chain(FIX).map(reference)
}

/// Returns the policy of a reference table from the start; all of them are laid out once, for some take seconds.
pub fn policy(name: &str) -> &'static Policy {
    static POLICIES: LazyLock<BTreeMap<&str, Policy>> = LazyLock::new(|| {
        let laid_out = |table: Reference| {
            let policy = compile(&table.problem, &Findings::none(), &Budget::default(), 10_000);
            (table.name, policy.unwrap_or_else(|wrong| panic!("{}: {wrong:?}", table.name)))
        };
        all().map(laid_out).collect()
    });
    &POLICIES[name]
}

fn draft(table: &Value) -> Draft {
    let confidence = table["confidence"].as_f64().unwrap_or(1.0);
    let goal = if table["mode"] == "fix" { Goal::Fix } else { Goal::Identify { confidence } };
    let start_over = table["fallback"].as_f64().map(|minutes| StartOverDraft {
        minutes,
        after: 0.0,
        again: by_cause(&table["again"]),
    });
    Draft {
        goal,
        causes: list(&table["causes"])
            .map(|cause| CauseDraft { id: text(&cause["id"]), weight: number(&cause["weight"]) })
            .collect(),
        checks: list(&table["checks"]).map(check).collect(),
        remedies: list(&table["repairs"]).map(remedy).collect(),
        start_over,
    }
}

fn check(check: &Value) -> CheckDraft {
    let rows = check["likelihood"].as_object().expect("a check has likelihoods");
    let outcome = |(n, label): (usize, &Value)| OutcomeDraft {
        label: text(label),
        effect: match check["effects"][label.as_str().expect("a label")].as_str() {
            None => Effect::Continue,
            Some("fixed") => Effect::Fixed,
            Some("spoiled") => Effect::Lost,
            Some(other) => panic!("{other} is no effect"),
        },
        after: 0.0,
        chance: rows.iter().map(|(cause, row)| (cause.clone(), number(&row[n]))).collect(),
    };
    let outcomes = list(&check["outcomes"]).enumerate().map(outcome).collect();
    CheckDraft { id: text(&check["id"]), minutes: number(&check["cost"]), outcomes }
}

fn remedy(remedy: &Value) -> RemedyDraft {
    RemedyDraft {
        id: text(&remedy["id"]),
        minutes: number(&remedy["cost"]),
        cures: by_cause(&remedy["fixes"]),
        loses: by_cause(&remedy["spoils"]),
        after_fixed: 0.0,
        after_lost: 0.0,
    }
}

fn by_cause(numbers: &Value) -> ByCause {
    numbers.as_object().into_iter().flatten().map(|(cause, minutes)| (cause.clone(), number(minutes))).collect()
}

pub fn list(value: &Value) -> impl Iterator<Item = &Value> {
    value.as_array().into_iter().flatten()
}

pub fn text(value: &Value) -> String {
    value.as_str().unwrap_or_else(|| panic!("{value} is no text")).to_owned()
}

pub fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

/// Returns the findings of a state of a reference table.
pub fn findings(problem: &Problem, state: &Value) -> Findings {
    let mut findings = Findings::none();
    for finding in list(&state["findings"]) {
        let outcome = match text(&finding[1]) {
            // What the file form calls spoiled is `lost` of a remedy here.
            spoiled if spoiled == "spoiled" => "lost".to_owned(),
            outcome => outcome,
        };
        findings.see(problem, &text(&finding[0]), &outcome).expect("the reference names what there is");
    }
    findings
}
