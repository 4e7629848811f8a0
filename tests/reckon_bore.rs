//! The bore: wood left at the bushing, the gap round the tube, the bit for it. Each row names where its figure is from.

#[path = "reckon_bore/bits.rs"]
mod bits;
#[path = "reckon_bore/gap.rs"]
mod gap;
#[path = "reckon_bore/own_bits.rs"]
mod own_bits;
mod reckoning;
#[path = "reckon_bore/wall.rs"]
mod wall;
