//! Values from published standards and handbooks, worked from the source and never pasted from our own output.
//!
//! Each table names its source and how far it was seen: SEEN (read in the named text), SEEN (secondary) (read in a page that
//! restates the standard), from memory, or DERIVED (computed from seen figures by the method stated).

#![allow(clippy::unwrap_used, reason = "a test's failure is its message")]

mod board_feet;
mod csv_rules;
mod moisture;
mod movement;
mod panels;
mod screws;
mod shelves;
mod tipping;
