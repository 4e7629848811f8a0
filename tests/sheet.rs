//! Sheets: every step is on its checklist, every form carries the same words, and a stranger's text stays text.

mod home;

mod sheet {
    mod care;
    mod fault_trees;
    mod forms;
    mod hostile;
    mod jobs;
    mod labels;
    mod parts;
    mod printed;
    pub mod read_back;
    mod record;
    mod short;
    mod steps;
    mod strangers;
    mod using;
    mod verb;
}
