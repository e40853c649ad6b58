//! Completions for shells and the man page, made from the command line's own definition.

use crate::cli::Cli;
use clap::CommandFactory;
use clap_complete::Shell;
use clap_mangen::Man;
use std::io;

/// The name that users type.
const NAME: &str = "restbite";

/// A script that completes the command line in a shell.
pub fn completions(shell: Shell) -> String {
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut Cli::command(), NAME, &mut script);
    String::from_utf8_lossy(&script).into_owned()
}

/// What stands after the options, which is laid out as it is to be read.
fn notes(text: &[u8]) -> String {
    let text = String::from_utf8_lossy(text);
    match text.split_once(".SH EXTRA\n") {
        Some((before, extra)) => format!("{before}.SH NOTES\n.nf\n{extra}.fi\n"),
        None => text.into_owned(),
    }
}

/// The man page, each verb a section of it.
///
/// # Errors
/// Those of writing to memory: none.
pub fn man() -> io::Result<String> {
    let mut command = Cli::command();
    command.build();
    let mut page = Vec::new();
    let whole = Man::new(command.clone());
    whole.render_title(&mut page)?;
    whole.render_name_section(&mut page)?;
    whole.render_synopsis_section(&mut page)?;
    whole.render_description_section(&mut page)?;
    whole.render_options_section(&mut page)?;
    for verb in command.get_subcommands().filter(|verb| verb.get_name() != "help") {
        page.extend(format!(".SH \"{}\"\n", verb.get_name().to_uppercase()).bytes());
        let about = verb.get_about().map(ToString::to_string).unwrap_or_default();
        page.extend(format!("{about}\n").bytes());
        let part = Man::new(verb.clone());
        let mut text = Vec::new();
        part.render_synopsis_section(&mut text)?;
        part.render_options_section(&mut text)?;
        part.render_extra_section(&mut text)?;
        // Sections of a verb are parts of its own.
        page.extend(notes(&text).replace(".SH ", ".SS ").bytes());
    }
    let mut text = Vec::new();
    whole.render_extra_section(&mut text)?;
    page.extend(notes(&text).bytes());
    whole.render_version_section(&mut page)?;
    Ok(String::from_utf8_lossy(&page).into_owned())
}
