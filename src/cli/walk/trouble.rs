//! Trouble in a walk: which fault tables are offered, asking one, and what comes after it.

mod adds;
mod offers;

use jiff::Timestamp;

pub(in crate::cli) use self::adds::Added;
use self::adds::Adds;
use self::offers::{Offer, chosen, offer, offers};
use super::session::{Next, Session};
use crate::cli::failure::Failure;
use crate::cli::job_folder::write_whole;
use crate::cli::prompt::Typed;
use crate::cli::shelf;
use crate::cli::trouble::asking::{Asking, InJob};
use crate::cli::trouble::endings::{Over, SAFE_STOP};
use crate::cli::trouble::{learned, table_of};
use crate::finding::Source;
use crate::guide::document::Document;
use crate::guide::{ConditionSet, Library, TroubleCall, fold, read};
use crate::trouble::consult::Consultation;
use crate::trouble::table::Table;
use crate::walk::trouble::{Trouble, TroubleEvent};
use crate::walk::{Answer, Refusal, Scene};

/// How many tables are listed unasked.
const LISTED: usize = 5;

/// How many things that have changed are listed.
const LISTED_CHANGES: usize = 8;

/// What is said where no table is about what is seen.
const NONE_OF_THESE: &str = "none of these";

/// What is typed to say by hand what is no longer true.
const BY_HAND: &str = "lost";

/// What was said to the list of tables.
enum Chosen {
    Table(usize),
    Next(Next),
    /// Nothing in it; the list is shown again under this.
    Again(String),
}

impl Session<'_, '_> {
    /// Offers the fault tables that may be about it; where there is none, asks what is no longer true.
    pub(super) fn trouble(&mut self, told: &[String], scene: &Scene) -> Result<Next, Failure> {
        let library = shelf::library(self.settings)?;
        let offers = offers(&self.walk, &library);
        if offers.is_empty() {
            return self.ask_about("trouble", told, scene);
        }
        let all: Vec<usize> = (0..offers.len()).collect();
        self.choose_table(&offers, &all, told, scene)
    }

    /// Opens the table that a person's words are about, lists those that may be meant, or says that there is none.
    pub(super) fn trouble_in_words(&mut self, words: &str, scene: &Scene) -> Result<Next, Failure> {
        let library = shelf::library(self.settings)?;
        let offers = offers(&self.walk, &library);
        match chosen(&offers, &fold(words)).as_slice() {
            [] => {
                let all: Vec<usize> = (0..offers.len()).collect();
                let told = format!("No trouble that is known here is called `{words}`.");
                if all.is_empty() { self.remark(told, scene) } else { self.choose_table(&offers, &all, &[told], scene) }
            }
            [offer] => self.open(&offers[*offer]),
            several => self.choose_table(&offers, several, &[], scene),
        }
    }

    /// Opens the table that an answer leads to, where it is there to be asked.
    pub(super) fn open_called(&mut self, call: &TroubleCall) -> Result<Next, Failure> {
        let library = shelf::library(self.settings)?;
        match offer(&self.walk, &library, call.clone()) {
            Some(offer) => self.open(&offer),
            None => Ok(Next::Draw),
        }
    }

    /// Returns what to type instead, where a line that is nothing here is a word for trouble.
    pub(super) fn sounds_like_trouble(&self, typed: &str, refusal: &Refusal) -> Option<String> {
        if fold(typed).len() < 4 || typed.starts_with(':') {
            return None;
        }
        let library = shelf::library(self.settings).ok()?;
        let meant = offers(&self.walk, &library).iter().any(|offer| offer.words.is_about(&offer.title, typed));
        meant.then(|| format!("{}; if it went wrong, type `trouble {}`.", refusal.message, typed.trim()))
    }

    /// Lists tables until one is opened or the list is left.
    fn choose_table(
        &mut self,
        offers: &[Offer],
        among: &[usize],
        told: &[String],
        scene: &Scene,
    ) -> Result<Next, Failure> {
        let of_the_step = among.iter().filter(|n| offers[**n].is_of_the_step).count();
        let mut listed = LISTED.max(of_the_step);
        let mut first = told.first().cloned();
        loop {
            let mut lines: Vec<String> = first.take().into_iter().collect();
            lines.push("What do you see?".to_owned());
            let shown = among.iter().take(listed).enumerate();
            lines.extend(shown.map(|(n, offer)| format!("{:>2}  {}", n + 1, offers[*offer].title)));
            if among.len() > listed {
                lines.push(format!("And {} more: `more`, or type a word for it.", among.len() - listed));
            }
            lines.push(format!("Or `{NONE_OF_THESE}`; `{BY_HAND}`: say what is no longer true; Enter leaves it."));
            let mut words: Vec<String> = among.iter().map(|n| offers[*n].title.clone()).collect();
            words.extend(offers.iter().flat_map(|offer| offer.words.seen.iter().map(|seen| seen.value.clone())));
            words.extend([NONE_OF_THESE, BY_HAND, "more"].map(str::to_owned));
            let Some(typed) = self.ask_listed("trouble> ", &lines, words, scene)? else { return Ok(Next::Park) };
            match self.said_to_list(&typed, offers, among, told, scene)? {
                Chosen::Table(offer) => return self.open(&offers[offer]),
                Chosen::Next(next) => return Ok(next),
                Chosen::Again(why) if why.is_empty() => listed = usize::MAX,
                Chosen::Again(why) => first = Some(why),
            }
        }
    }

    fn said_to_list(
        &mut self,
        typed: &str,
        offers: &[Offer],
        among: &[usize],
        told: &[String],
        scene: &Scene,
    ) -> Result<Chosen, Failure> {
        let folded = fold(typed);
        let number = folded.parse::<usize>().ok();
        Ok(match folded.as_str() {
            "" | "back" => Chosen::Next(Next::Draw),
            "park" => Chosen::Next(Next::Park),
            "more" => Chosen::Again(String::new()),
            "none of these" | "none" => Chosen::Next(self.tell_under(&SAFE_STOP.map(str::to_owned), scene)?),
            BY_HAND => Chosen::Next(self.ask_about("trouble", told, scene)?),
            _ => match (number, chosen(offers, &folded).as_slice()) {
                (Some(n), _) => match n.checked_sub(1).and_then(|n| among.get(n)) {
                    Some(offer) => Chosen::Table(*offer),
                    None => Chosen::Again(format!("The list has no {n}.")),
                },
                (None, [offer]) => Chosen::Table(*offer),
                (None, []) => Chosen::Again(format!("`{}` is about none of them.", typed.trim())),
                (None, several) => {
                    let titles: Vec<&str> = several.iter().map(|n| offers[*n].title.as_str()).collect();
                    Chosen::Again(format!("Say which: {}.", titles.join("; ")))
                }
            },
        })
    }

    fn open(&mut self, offer: &Offer) -> Result<Next, Failure> {
        let path = self.folder.path().join(format!("trouble-{}.toml", offer.call.table));
        write_whole(&path, offer.source.as_bytes()).map_err(|wrong| Failure::usage(wrong.to_string()))?;
        let (table, with, title) = (offer.call.table.clone(), offer.call.with.clone(), offer.title.clone());
        self.take(TroubleEvent::Opened { table, with, title }.at(Timestamp::now()))?;
        self.at_table(true)
    }

    /// Asks the table that is open until it is over or laid aside; the first words are said where it is opened.
    pub(super) fn at_table(&mut self, is_opened: bool) -> Result<Next, Failure> {
        let Some(open) = self.walk.state().trouble.clone() else { return Ok(Next::Draw) };
        let library = shelf::library(self.settings)?;
        let document = self.document_of(&open, &library)?;
        let adds = Adds::new(&self.walk);
        let number = |name: &str| self.walk.state().number(self.walk.guide(), name);
        let filled = document.fault_table.as_deref().cloned().unwrap_or_default();
        let filled = filled.filled(&document.takes, &open.with, number);
        let (after_remedies, after_new_blank) = (adds.remedies(&filled), adds.new_blank(&filled));
        let odds = learned::odds(&open.table, &filled, self.settings)?;
        let endings = adds.endings(&filled);
        let table = table_of(&document, filled, &odds, &endings)?;
        let consultation = consultation(table, &open)?;
        let is_new = open.found.is_empty() && open.left_out.is_empty() && open.remedy.is_none();
        let is_resumed = !self.news.is_empty();
        if is_resumed {
            let news = std::mem::take(&mut self.news);
            self.tell(&news);
            if self.is_left_at("Enter to go on> ")? {
                return Ok(Next::Park);
            }
        }
        let before = self.walk.state().lasting(self.walk.guide());
        let job = InJob { walk: &mut self.walk, folder: &mut self.folder, after_remedies, after_new_blank };
        let files = (&library, &document);
        let mut asking = Asking::new(consultation, files, Some(job), &mut self.lines, self.settings, self.output);
        if is_new && (is_opened || is_resumed) {
            asking.first_words()?;
        }
        let over = asking.run()?;
        let parts =
            asking.consultation.table().words.start_over.iter().flat_map(|over| over.parts.clone()).collect::<Vec<_>>();
        let borrowed = if matches!(over, Over::Lost | Over::NewBlank) { asking.borrowed(&parts)? } else { Vec::new() };
        let causes = asking.likeliest();
        let undone = asking.consultation.table().words.start_over.iter().flat_map(|over| &over.undoes);
        let undone = undone.map(|name| name.value.clone()).collect();
        match over {
            Over::LaidAside | Over::Left => return Ok(Next::Park),
            Over::TakenBack => return Ok(Next::Draw),
            Over::Fixed => {}
            Over::Lost | Over::NewBlank => {
                self.take(TroubleEvent::StartedOver { undone, borrowed }.at(Timestamp::now()))?
            }
            Over::Unexplained | Over::Known => self.take(TroubleEvent::Closed.at(Timestamp::now()))?,
            Over::WentWrong => {
                self.take(TroubleEvent::Closed.at(Timestamp::now()))?;
                let scene = self.walk.scene(Timestamp::now());
                let mut told = vec!["That is trouble of its own; the one before is closed.".to_owned()];
                if let Ok(Answer::Ask { told: asked, .. }) = self.walk.read(":trouble", Timestamp::now()) {
                    told.extend(asked.into_iter().skip(1));
                }
                return self.trouble(&told, &scene);
            }
        }
        if matches!(over, Over::Fixed | Over::Lost | Over::NewBlank) {
            self.confirm_cause(&open.table, &causes)?;
        }
        let changed = self.changed_since(&before);
        self.tell_over_screen(changed);
        Ok(Next::Draw)
    }

    /// Reads the table as it was when it was opened.
    fn document_of(&self, open: &Trouble, library: &Library) -> Result<Document, Failure> {
        let kept = std::fs::read_to_string(self.folder.path().join(format!("trouble-{}.toml", open.table)));
        let source = kept.ok().map(|text| Source::new(format!("{}.toml", open.table), text));
        let source = source.or_else(|| library.trouble(&open.table));
        let document = source.and_then(|source| read(&source, library.limits()).0);
        document.ok_or_else(|| Failure::usage(format!("the fault table `{}` cannot be read", open.table)))
    }
}

/// Returns a table with what was found already.
fn consultation(table: Table, open: &Trouble) -> Result<Consultation, Failure> {
    let mut consultation = Consultation::begin(table);
    for (action, shown) in &open.found {
        consultation.see(action, shown).map_err(|wrong| Failure::usage(wrong.to_string()))?;
    }
    for action in &open.left_out {
        consultation.leave_out(action).map_err(|wrong| Failure::usage(wrong.to_string()))?;
    }
    Ok(consultation)
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
                n if n <= LISTED_CHANGES => told.push(format!("{what}: {}.", listed.join("; "))),
                n => {
                    let (first, rest) = (listed[..LISTED_CHANGES].join("; "), n - LISTED_CHANGES);
                    told.push(format!("{what}: {first}; and {rest} more. `where all` lists what holds."));
                }
            }
        }
        told
    }
}
