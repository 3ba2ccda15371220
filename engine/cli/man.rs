//! `casewright man`: the manual page, and the same story as a page of the documentation.

use std::fmt::Write as _;

use clap::ArgMatches;
use clap_mangen::Man;

use super::console::Console;
use super::exit::Exit;
use super::{ALL, Command, Ran, exit, program, render};

/// The story of the command.
pub const COMMAND: Command = Command {
    name: "man",
    about: "Print the manual page",
    detail: "In the format of man(1). To read it at once: casewright man | man -l -",
    args: |command| command,
    run,
};

fn run(_: &ArgMatches, console: &mut Console) -> Ran {
    match manual() {
        Ok(page) => console.bytes(&page)?,
        Err(error) => return Err(console.file_fault(&format!("the manual page could not be made: {error}"), "")),
    }
    Ok(Exit::Done)
}

/// One page for the whole program, a section a command.
fn manual() -> std::io::Result<Vec<u8>> {
    let program = program();
    let mut page = Vec::new();
    let man = Man::new(program.clone());
    man.render_title(&mut page)?;
    man.render_name_section(&mut page)?;
    man.render_synopsis_section(&mut page)?;
    man.render_description_section(&mut page)?;
    man.render_subcommands_section(&mut page)?;
    for command in program.get_subcommands() {
        let heading = format!(".SH \"CASEWRIGHT {}\"\n", command.get_name().to_uppercase());
        page.extend_from_slice(heading.as_bytes());
        let man = Man::new(command.clone());
        man.render_description_section(&mut page)?;
        man.render_options_section(&mut page)?;
        man.render_extra_section(&mut page)?;
    }
    man.render_extra_section(&mut page)?;
    man.render_version_section(&mut page)?;
    Ok(page)
}

/// The page of the documentation that lists every command: its help as the program prints it.
#[cfg_attr(not(test), expect(dead_code, reason = "only the test that holds docs/commands.md calls it"))]
pub fn page() -> String {
    let mut page = String::from(
        "# Commands\n\nThis page is made from the commands themselves; a test holds it to what the program says.\n",
    );
    for command in ALL {
        let mut whole = program();
        // Building the whole lets each command know its full name.
        whole.build();
        let Some(sub) = whole.find_subcommand_mut(command.name) else { continue };
        let help = sub.clone().term_width(super::console::WIDTH).render_help().to_string();
        let _ = write!(page, "\n## casewright {}\n\n```text\n{}\n```\n", command.name, help.trim_end());
    }
    page.push_str("\n## Exit codes\n\n| code | meaning |\n|---|---|\n");
    for (_, code, meaning) in exit::ALL {
        let _ = writeln!(page, "| {code} | {meaning} |");
    }
    page.push_str("\n## In the REPL\n\n| line | what it does |\n|---|---|\n");
    for (line, about) in super::repl::lines() {
        let _ = writeln!(page, "| `{}` | {} |", line.replace('|', "\\|"), render::visible(about).replace('|', "\\|"));
    }
    page
}
