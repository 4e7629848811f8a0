//! Glue: when it is hard, and whether it stays open long enough. Each row names where its figure is from.

#[path = "reckon_glue/cure.rs"]
mod cure;
#[path = "reckon_glue/open_time.rs"]
mod open_time;
#[path = "reckon_glue/own_glues.rs"]
mod own_glues;
mod reckoning;
