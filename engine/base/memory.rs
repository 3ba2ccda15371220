//! Counts the bytes that the current thread holds, so that a script can be stopped before it fills the machine.
//!
//! The limits that the script engine offers are per string and per array; a script that spreads its bytes over many
//! small values keeps all of them. Only the allocator sees the sum. This is the one file that may write `unsafe`, because
//! the trait of an allocator can be implemented in no other way; every call is handed on unchanged to the system's.
#![allow(unsafe_code)]

use std::alloc::{GlobalAlloc, Layout, System};
use std::cell::Cell;

thread_local! {
    static HELD: Cell<i64> = const { Cell::new(0) };
}

/// Bytes allocated less bytes freed by the current thread since it began. May be negative when it frees what another made.
pub fn held_by_thread() -> i64 {
    HELD.with(Cell::get)
}

/// The system's allocator with a count of bytes for each thread.
struct Counting;

#[global_allocator]
static ALLOCATOR: Counting = Counting;

fn note(bytes: usize, sign: i64) {
    // A thread that is being torn down has no counter any more, and needs none.
    let _ = HELD.try_with(|held| held.set(held.get().wrapping_add(sign.wrapping_mul(bytes.cast_signed() as i64))));
}

// SAFETY: every method hands its arguments unchanged to `System` and returns what it returned; the counter is a plain
// thread-local cell that allocates nothing.
unsafe impl GlobalAlloc for Counting {
    unsafe fn alloc(&self, layout: Layout) -> *mut u8 {
        note(layout.size(), 1);
        // SAFETY: the caller's promise is passed on.
        unsafe { System.alloc(layout) }
    }

    unsafe fn dealloc(&self, ptr: *mut u8, layout: Layout) {
        note(layout.size(), -1);
        // SAFETY: the caller's promise is passed on.
        unsafe { System.dealloc(ptr, layout) }
    }

    unsafe fn alloc_zeroed(&self, layout: Layout) -> *mut u8 {
        note(layout.size(), 1);
        // SAFETY: the caller's promise is passed on.
        unsafe { System.alloc_zeroed(layout) }
    }

    unsafe fn realloc(&self, ptr: *mut u8, layout: Layout, new_size: usize) -> *mut u8 {
        note(layout.size(), -1);
        note(new_size, 1);
        // SAFETY: the caller's promise is passed on.
        unsafe { System.realloc(ptr, layout, new_size) }
    }
}

#[cfg(test)]
mod tests {
    use super::held_by_thread;

    #[test]
    fn the_count_follows_what_is_held() {
        let before = held_by_thread();
        let block = vec![0_u8; 1 << 20];
        assert!(held_by_thread() - before >= 1 << 20);
        drop(block);
        assert!(held_by_thread() - before < 1 << 16);
    }
}
