//! Cutting stock: rectangles out of sheets, lengths out of boards.

mod boards;
mod bound;
mod effort;
mod fault;
mod heaviest;
mod knapsack;
mod lay;
mod least;
mod lp;
mod one_sheet;
mod patterns;
mod plan;
mod polish;
mod problem;
mod search;
mod setup;
mod solve;
mod sticks;
mod tree;
mod verify;

pub use boards::{Board, BoardLayout, BoardPlan, Boards, Stick};
pub use effort::Effort;
pub use fault::Fault;
pub use least::least_cost;
pub use plan::{Layout, Node, Plan, Score, kept, worth};
pub use problem::{Axis, Item, Keep, LARGEST, Matched, Problem, Saw, Sheet, Stages, Thin, Trim, Trimming, Turn, Way};
pub use solve::{Outcome, plan};
pub use sticks::{BoardOutcome, plan_boards};
pub use verify::{Areas, Broken, Placed, replay, verify, verify_boards};
