//! The program as typed.
