//! What the program says of its work. No phone number and no text of a message may reach it, however much is asked for.

use std::io::IsTerminal;

use tracing::{Level, Metadata, error};
use tracing_subscriber::filter::{LevelFilter, filter_fn};
use tracing_subscriber::layer::SubscriberExt;
use tracing_subscriber::util::SubscriberInitExt;
use tracing_subscriber::{EnvFilter, Layer, fmt};

/// Logs go to standard error: readable on a terminal, JSON for machines. `RUST_LOG` says how much,
/// `usually` without it.
///
/// # Errors
/// A filter that says nothing, in one sentence.
pub fn start(usually: &str) -> Result<(), String> {
    let wanted = filter(std::env::var("RUST_LOG").ok().as_deref().unwrap_or_default(), usually)?;
    let is_terminal = std::io::stderr().is_terminal();
    let json = (!is_terminal).then(|| fmt::layer().json().with_writer(std::io::stderr));
    let plain = is_terminal.then(|| fmt::layer().with_writer(std::io::stderr));
    let layers = json.map(Layer::boxed).or(plain.map(Layer::boxed));
    // Fails only when a subscriber is set, which a program does once.
    let _ = tracing_subscriber::registry()
        .with(layers.map(|layer| layer.with_filter(filter_fn(is_fit_to_print))))
        .with(wanted)
        .try_init();
    std::panic::set_hook(Box::new(|panic| {
        // The words of a panic may quote a message.
        let place = panic.location().map(ToString::to_string).unwrap_or_default();
        error!(place, "fault in the program");
    }));
    Ok(())
}

/// A word alone is a level or one of our modules; the library would take any other for the name of a module that is nowhere.
fn filter(wanted: &str, usually: &str) -> Result<EnvFilter, String> {
    if wanted.trim().is_empty() {
        return Ok(EnvFilter::new(usually));
    }
    let is_level = |word: &str| word.parse::<LevelFilter>().is_ok();
    let is_known = |part: &str| part.contains('=') || part.contains('[') || is_level(part) || part.starts_with("noonwater");
    let unknown = wanted.split(',').map(str::trim).find(|part| !part.is_empty() && !is_known(part));
    match (unknown, EnvFilter::try_new(wanted)) {
        (None, Ok(filter)) => Ok(filter),
        _ => Err("environment variable RUST_LOG: write error, warn, info, debug or trace, or noonwater=debug".to_owned()),
    }
}

/// What libraries say below a warning quotes bodies, statements and values: it cannot be asked for.
fn is_fit_to_print(event: &Metadata<'_>) -> bool {
    event.target().starts_with("noonwater") || *event.level() <= Level::WARN
}

#[cfg(test)]
mod tests {
    use super::filter;

    #[test]
    fn a_filter_that_says_nothing_is_refused() {
        for good in ["", "info", "WARN", "noonwater=debug", "noonwater::work=trace,warn"] {
            assert!(filter(good, "info").is_ok(), "{good}");
        }
        for bad in ["verbose", "noonwater=loud", "info,verbose", "=="] {
            assert!(filter(bad, "info").is_err(), "{bad}");
        }
    }
}
