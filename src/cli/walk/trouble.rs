//! Trouble in a walk: which fault tables are offered, asking one, and what comes after it.

use jiff::Timestamp;

use super::session::{Next, Session};
use crate::cli::failure::Failure;
use crate::cli::job_folder::write_whole;
use crate::cli::prompt::Typed;
use crate::cli::shelf;
use crate::cli::trouble::asking::{Asking, InJob, Over};
use crate::cli::trouble::learned;
use crate::finding::{Severity, Source};
use crate::guide::document::{Document, Text};
use crate::guide::fault_table::{RawFaultTable, RawOutcome};
use crate::guide::{ConditionSet, Library, TroubleCall, fold, read};
use crate::trouble::consult::Consultation;
use crate::trouble::table::{Endings, Table};
use crate::walk::trouble::{Onward, TroubleEvent};
use crate::walk::{Scene, Walk};

/// How many tables are listed unasked.
const LISTED: usize = 5;

/// What is said where no table is about what is seen.
const NONE_OF_THESE: &str = "none of these";

/// What is typed to say by hand what is no longer true.
const BY_HAND: &str = "lost";

/// A fault table that can be asked here.
struct Offer {
    call: TroubleCall,
    source: String,
    title: String,
    seen: Vec<String>,
}

impl Session<'_, '_> {
    /// Offers the fault tables that may be about it; where there is none, asks what is no longer true.
    pub(super) fn trouble(&mut self, told: &[String], scene: &Scene) -> Result<Next, Failure> {
        let library = shelf::library(self.settings)?;
        let offers = offers(&self.walk, &library);
        if offers.is_empty() {
            return self.ask_about("trouble", told, scene);
        }
        let mut listed = LISTED;
        loop {
            let mut lines: Vec<String> = told.first().into_iter().cloned().collect();
            lines.push("What do you see?".to_owned());
            let shown = offers.iter().take(listed).enumerate();
            lines.extend(shown.map(|(n, offer)| format!("{:>2}  {}", n + 1, offer.title)));
            if offers.len() > listed {
                lines.push(format!("And {} more: `more`, or type a word for it.", offers.len() - listed));
            }
            lines.push(format!("Or `{NONE_OF_THESE}`; `{BY_HAND}`: say what is no longer true; Enter leaves it."));
            let mut words: Vec<String> = offers.iter().map(|offer| offer.title.clone()).collect();
            words.extend(offers.iter().flat_map(|offer| offer.seen.clone()));
            words.extend([NONE_OF_THESE, BY_HAND, "more"].map(str::to_owned));
            let Some(typed) = self.ask_listed("trouble> ", &lines, words, scene)? else { return Ok(Next::Park) };
            let folded = fold(&typed);
            match folded.as_str() {
                "" => return Ok(Next::Draw),
                "more" => listed = usize::MAX,
                "none of these" | "none" => return self.safe_stop(scene),
                BY_HAND => return self.ask_about("trouble", told, scene),
                _ => match chosen(&offers, &folded).as_slice() {
                    [offer] => return self.open(&offers[*offer]),
                    [] => return self.remark(format!("`{}` is about none of them.", typed.trim()), scene),
                    several => {
                        let titles: Vec<&str> = several.iter().map(|n| offers[*n].title.as_str()).collect();
                        return self.remark(format!("Say which: {}.", titles.join("; ")), scene);
                    }
                },
            }
        }
    }

    fn safe_stop(&mut self, scene: &Scene) -> Result<Next, Failure> {
        let told = [
            "Stop here: nothing more is done to the work until it is understood.",
            "Write it down by `note`: what was being done, what was seen and in which order, which glue, which bit, how warm. Then ask somebody who has made the kit; `park` lays the pen aside.",
        ];
        self.tell_under(&told.map(str::to_owned), scene)
    }

    fn open(&mut self, offer: &Offer) -> Result<Next, Failure> {
        let path = self.folder.path().join(format!("trouble-{}.toml", offer.call.table));
        write_whole(&path, offer.source.as_bytes()).map_err(|wrong| Failure::usage(wrong.to_string()))?;
        let opened = TroubleEvent::Opened { table: offer.call.table.clone(), with: offer.call.with.clone() };
        self.take(opened.at(Timestamp::now()))?;
        self.at_table()
    }

    /// Asks the table that is open until it is over or laid aside.
    pub(super) fn at_table(&mut self) -> Result<Next, Failure> {
        let Some(open) = self.walk.state().trouble.clone() else { return Ok(Next::Draw) };
        let library = shelf::library(self.settings)?;
        let kept = std::fs::read_to_string(self.folder.path().join(format!("trouble-{}.toml", open.table)));
        let source = kept.ok().map(|text| Source::new(format!("{}.toml", open.table), text));
        let source = source.or_else(|| library.trouble(&open.table));
        let document = source.and_then(|source| read(&source, library.limits()).0);
        let document =
            document.ok_or_else(|| Failure::usage(format!("the fault table `{}` cannot be read", open.table)))?;
        let number = |name: &str| self.walk.state().number(self.walk.guide(), name);
        let raw = document.fault_table.as_deref().cloned().unwrap_or_default();
        let filled = raw.filled(&document.takes, &open.with, number);
        let odds = learned::odds(&open.table, &filled, self.settings)?;
        let adds = Adds::new(&self.walk);
        let (endings, after_remedies) = (adds.endings(&filled), adds.remedies(&filled));
        let table = Table::new(&document, &open.with, number, Some(&odds), &endings).map_err(|faults| {
            let said: Vec<String> = faults.iter().map(ToString::to_string).collect();
            Failure::usage(format!("the fault table `{}` cannot be asked: {}", open.table, said.join("; ")))
        })?;
        let mut consultation = Consultation::begin(table);
        for (action, shown) in &open.found {
            consultation.see(action, shown).map_err(|wrong| Failure::usage(wrong.to_string()))?;
        }
        for action in &open.left_out {
            consultation.leave_out(action).map_err(|wrong| Failure::usage(wrong.to_string()))?;
        }
        let is_resumed = !self.news.is_empty();
        if is_resumed {
            let news = std::mem::take(&mut self.news);
            self.tell(&news);
            if let Typed::End = self.ask("Enter to go on> ", Vec::new())? {
                return Ok(Next::Park);
            }
        }
        let before = self.walk.state().lasting(self.walk.guide());
        let is_new = open.found.is_empty() && open.left_out.is_empty() && open.remedy.is_none();
        let mut asking = Asking {
            consultation,
            library: &library,
            document: &document,
            job: Some(InJob { walk: &mut self.walk, folder: &mut self.folder }),
            lines: &mut self.lines,
            settings: self.settings,
            output: self.output,
            after_remedies,
            told_of_cost: false,
            went_wrong_inside: false,
        };
        if is_new {
            asking.first_words()?;
        }
        let over = asking.run()?;
        let causes = asking.likeliest();
        let undone = asking.consultation.table().words.start_over.iter().flat_map(|over| &over.undoes);
        let undone = undone.map(|name| name.value.clone()).collect();
        match over {
            Over::LaidAside => return Ok(Next::Park),
            Over::Fixed => {}
            Over::Lost | Over::NewBlank => {
                self.take(TroubleEvent::StartedOver { undone }.at(Timestamp::now()))?;
            }
            Over::Unexplained | Over::Known => self.take(TroubleEvent::Closed.at(Timestamp::now()))?,
            Over::WentWrong => {
                self.take(TroubleEvent::Closed.at(Timestamp::now()))?;
                let told = "Something went wrong inside the remedy: `trouble` asks about that now.";
                self.tell_over_screen(vec![told.to_owned()]);
            }
        }
        if matches!(over, Over::Fixed | Over::Lost | Over::NewBlank) {
            self.confirm_cause(&open.table, &causes)?;
        }
        let changed = self.changed_since(&before);
        self.tell_over_screen(changed);
        Ok(Next::Draw)
    }
}

impl Session<'_, '_> {
    /// Asks a person what it was, for the shop's own odds; the likeliest causes first.
    fn confirm_cause(&mut self, table: &str, causes: &[(String, String)]) -> Result<(), Failure> {
        if !self.lines.is_person() || !self.settings.learns {
            return Ok(());
        }
        let mut told = vec!["For next time: what was it? Enter where that was not seen.".to_owned()];
        told.extend(causes.iter().enumerate().map(|(n, (_, say))| format!("{:>3}  {say}", n + 1)));
        self.tell(&told);
        let words = causes.iter().map(|(_, say)| say.clone()).collect();
        let Typed::Line(line) = self.ask("number or Enter> ", words)? else { return Ok(()) };
        let chosen = line.trim().parse::<usize>().ok().and_then(|n| causes.get(n.checked_sub(1)?));
        let by_words = || causes.iter().find(|(_, say)| fold(say) == fold(&line));
        match chosen.or_else(by_words) {
            Some((cause, _)) => {
                let confirmed = TroubleEvent::Confirmed { table: table.to_owned(), cause: cause.clone() };
                self.take(confirmed.at(Timestamp::now()))
            }
            None => Ok(()),
        }
    }

    /// Says what is true of the work now and was not, and what was and is not.
    fn changed_since(&self, before: &ConditionSet) -> Vec<String> {
        let guide = self.walk.guide();
        let now = self.walk.state().lasting(guide);
        let said = |set: &ConditionSet, other: &ConditionSet| -> Vec<String> {
            let own = set.iter().filter(|condition| !other.contains(*condition));
            own.filter(|condition| !guide.name(*condition).starts_with("read."))
                .map(|condition| guide.said(condition))
                .collect()
        };
        let (gone, new) = (said(before, &now), said(&now, before));
        let mut told = Vec::new();
        for (what, listed) in [("No longer so, to be done again", gone), ("So now", new)] {
            match listed.len() {
                0 => {}
                n if n <= 4 => told.push(format!("{what}: {}.", listed.join("; "))),
                n => told.push(format!("{what}: {}; and {} more.", listed[..3].join("; "), n - 3)),
            }
        }
        told
    }
}

/// Returns the tables that the guide names: those of the present step, then those whose needs hold.
fn offers(walk: &Walk<'_>, library: &Library) -> Vec<Offer> {
    let guide = walk.guide();
    let here = &guide.step(walk.state().here).trouble;
    let lasting = walk.state().lasting(guide);
    let number = |name: &str| walk.state().number(guide, name);
    let offer = |call: TroubleCall| {
        let source = library.trouble(&call.table)?;
        let (document, findings) = read(&source, library.limits());
        let document = document.filter(|_| findings.iter().all(|finding| finding.severity() != Severity::Error))?;
        let raw = document.fault_table.as_deref()?.filled(&document.takes, &call.with, number);
        let holds = |need: &Text| guide.condition(&need.value).is_some_and(|condition| lasting.contains(condition));
        let fits = here.contains(&call) || raw.needs.iter().all(holds);
        fits.then(|| Offer {
            title: titled(&document, &call),
            seen: raw.seen.iter().map(|seen| seen.value.clone()).collect(),
            source: source.text().to_owned(),
            call,
        })
    };
    walk.trouble_calls().into_iter().filter_map(offer).collect()
}

/// Returns a table's title with what it is about.
fn titled(document: &Document, call: &TroubleCall) -> String {
    let about: Vec<&str> = call.with.iter().map(|(_, value)| value.rsplit('.').next().unwrap_or(value)).collect();
    if about.is_empty() { document.title.clone() } else { format!("{} ({})", document.title, about.join(", ")) }
}

/// Returns the offers that a number or words name.
fn chosen(offers: &[Offer], typed: &str) -> Vec<usize> {
    if let Some(n) = typed.parse::<usize>().ok().filter(|n| (1..=offers.len()).contains(n)) {
        return vec![n - 1];
    }
    let about = |offer: &Offer| {
        fold(&offer.call.table) == typed
            || fold(&offer.title).contains(typed)
            || offer.seen.iter().any(|seen| fold(seen).contains(typed))
    };
    let exact: Vec<usize> = (0..offers.len()).filter(|n| fold(&offers[*n].title) == typed).collect();
    if exact.is_empty() { (0..offers.len()).filter(|n| about(&offers[*n])).collect() } else { exact }
}

/// What an ending adds to what would have been left to do anyway.
#[derive(Debug, Clone, Copy, Default)]
pub(in crate::cli) struct Added {
    /// Minutes of attention.
    pub(in crate::cli) attention: f64,
    /// Minutes of waiting.
    pub(in crate::cli) waits: f64,
}

/// Says what rejoining after each ending adds.
struct Adds<'w, 'g> {
    walk: &'w Walk<'g>,
    anyway: Onward,
}

impl<'w, 'g> Adds<'w, 'g> {
    fn new(walk: &'w Walk<'g>) -> Adds<'w, 'g> {
        let nothing = Onward { step: walk.state().here, attention: 0.0, waits: 0.0 };
        Adds { walk, anyway: walk.onward_from_here().unwrap_or(nothing) }
    }

    fn after(&self, undone: &[Text], given: &[Text]) -> Added {
        let names = |texts: &[Text]| texts.iter().map(|text| text.value.clone()).collect::<Vec<_>>();
        let Some(onward) = self.walk.onward(&names(undone), &names(given)) else { return Added::default() };
        Added {
            attention: (onward.attention - self.anyway.attention).max(0.0),
            waits: (onward.waits - self.anyway.waits).max(0.0),
        }
    }

    fn remedies(&self, table: &RawFaultTable) -> Vec<Added> {
        table.remedies.iter().map(|remedy| self.after(&remedy.undoes, &remedy.gives)).collect()
    }

    fn endings(&self, table: &RawFaultTable) -> Endings {
        let of_outcome = |outcome: &RawOutcome| match outcome.fixed {
            true => self.after(&[outcome.spoils.clone(), outcome.undoes.clone()].concat(), &outcome.gives).attention,
            false => 0.0,
        };
        // The table's own minutes count the price of the wood, which no way through the guide does.
        let over = table.start_over.as_ref();
        let computed = over.map_or(0.0, |over| self.after(&over.undoes, &[]).attention);
        let own = over.and_then(|over| over.minutes).unwrap_or(0.0);
        Endings {
            start_over: Some(computed.max(own)).filter(|minutes| *minutes > 0.0),
            checks: table.checks.iter().map(|check| check.outcomes.iter().map(of_outcome).collect()).collect(),
            remedies: self.remedies(table).iter().map(|added| added.attention).collect(),
        }
    }
}
