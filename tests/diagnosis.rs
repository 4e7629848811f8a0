//! Fault diagnosis against its reference tables, against brute force, and against what must hold for any table.

mod fault_tables;

mod diagnosis {
    mod any_table;
    mod brute_force;
    mod faults;
    mod large;
    mod policies;
    mod reference;
}
