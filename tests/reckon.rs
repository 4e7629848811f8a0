//! The reckonings, each against something outside the project. Each row names where its figure is from.

#[path = "reckon/bits.rs"]
mod bits;
#[path = "reckon/blank.rs"]
mod blank;
#[path = "reckon/cure.rs"]
mod cure;
#[path = "reckon/fits.rs"]
mod fits;
#[path = "reckon/gap.rs"]
mod gap;
#[path = "reckon/helper.rs"]
mod helper;
#[path = "reckon/hostile.rs"]
mod hostile;
#[path = "reckon/open_time.rs"]
mod open_time;
#[path = "reckon/own_bits.rs"]
mod own_bits;
#[path = "reckon/own_faults.rs"]
mod own_faults;
#[path = "reckon/own_glues.rs"]
mod own_glues;
#[path = "reckon/press.rs"]
mod press;
#[path = "reckon/screws.rs"]
mod screws;
#[path = "reckon/speed.rs"]
mod speed;
#[path = "reckon/threads.rs"]
mod threads;
#[path = "reckon/wall.rs"]
mod wall;
#[path = "reckon/wood.rs"]
mod wood;
