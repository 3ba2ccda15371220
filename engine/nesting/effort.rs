//! How long to search, and where the dice come from.

/// How much work a search may do. The same problem, seed and work give the same plan on every machine.
///
/// Time enters only through `stop`: when it returns true, the search ends with the best plan that it has. Nothing is
/// decided by it but the end, so a search that ends by itself or by its work before that is not changed by it.
pub struct Effort<'a> {
    /// Where the dice begin.
    pub seed: u64,
    /// How many attempts to better the plan are made at most; an attempt takes some microseconds.
    pub work: u64,
    /// Asked every now and then; true ends the search.
    pub stop: &'a (dyn Fn() -> bool + Sync),
}

impl<'a> Effort<'a> {
    /// As much work as that, with no other end.
    pub fn work(work: u64) -> Self {
        Self { seed: 1, work, stop: &|| false }
    }

    /// Any amount of work, until `stop` says true.
    pub fn until(stop: &'a (dyn Fn() -> bool + Sync)) -> Self {
        Self { seed: 1, work: u64::MAX, stop }
    }
}

/// Dice that fall the same way on every machine: the mixing function of Steele, Lea and Flood, "Fast splittable
/// pseudorandom number generators" (2014).
#[derive(Clone, Debug)]
pub(super) struct Dice(u64);

impl Dice {
    pub(super) fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ 0x1234_5678_9abc_def1)
    }

    pub(super) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// One of 0..n; 0 when n is 0.
    pub(super) fn below(&mut self, n: usize) -> usize {
        let wide = u128::from(self.next()) * (n as u128);
        usize::try_from(wide >> 64).unwrap_or(0)
    }

    /// True once in n.
    pub(super) fn once_in(&mut self, n: usize) -> bool {
        self.below(n) == 0
    }

    /// Looks away once in n, by quick dice of its own (Marsaglia, "Xorshift RNGs", 2003).
    pub(super) fn blink(&mut self, n: u64) -> impl FnMut() -> bool + use<> {
        let mut bits = self.next() | 1;
        move || {
            bits ^= bits << 13;
            bits ^= bits >> 7;
            bits ^= bits << 17;
            bits.is_multiple_of(n)
        }
    }
}
