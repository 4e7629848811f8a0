//! Sheets: every step is on its checklist, every form carries the same words, and a stranger's text stays text.

mod home;

mod sheet {
    mod forms;
    mod hostile;
    mod printed;
    pub mod read_back;
    mod steps;
    mod verb;
}
