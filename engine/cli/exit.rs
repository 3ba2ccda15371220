//! The exit codes, in one table.

use std::process::ExitCode;

/// How the program ended. Scripts may rely on the numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Exit {
    /// Everything that was asked for was done; warnings and notes may have been told.
    Done,
    /// The job, or one job of a batch, has errors.
    JobErrors,
    /// The command line is not one that the program knows.
    Usage,
    /// A file could not be read or written.
    File,
    /// A fault of the program itself.
    Fault,
}

/// Every way to end, with its number and what it means.
pub const ALL: [(Exit, u8, &str); 5] = [
    (Exit::Done, 0, "everything asked for was done; there may be warnings"),
    (Exit::JobErrors, 1, "the job, the shop file or a job of the batch has errors"),
    (Exit::Usage, 2, "the command line is not understood"),
    (Exit::File, 3, "a file could not be read or written"),
    (Exit::Fault, 70, "a fault of the program itself; please report it"),
];

impl Exit {
    /// The number that the operating system is told.
    pub fn code(self) -> u8 {
        ALL.into_iter().find(|(exit, ..)| *exit == self).map_or(70, |(_, code, _)| code)
    }

    /// The graver of two ends, for a command that does several things.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        self.max(other)
    }
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(exit.code())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_numbers_stay_as_scripts_know_them() {
        let codes: Vec<(Exit, u8)> = ALL.into_iter().map(|(exit, code, _)| (exit, code)).collect();
        let expected = [
            (Exit::Done, 0),
            (Exit::JobErrors, 1),
            (Exit::Usage, 2),
            (Exit::File, 3),
            // 70 is EX_SOFTWARE, "an internal software error", in the sysexits table of BSD.
            (Exit::Fault, 70),
        ];
        assert_eq!(codes, expected);
        for (exit, code) in expected {
            assert_eq!(exit.code(), code);
        }
    }

    #[test]
    fn the_graver_end_wins() {
        assert_eq!(Exit::Done.and(Exit::JobErrors), Exit::JobErrors);
        assert_eq!(Exit::Fault.and(Exit::File), Exit::Fault);
    }
}
