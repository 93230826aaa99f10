//! What the program says of its work. No phone number and no text of a message may reach it, however much is asked for.

use std::io::IsTerminal;

use tracing::{Level, Metadata, error};
use tracing_subscriber::filter::filter_fn;
use tracing_subscriber::layer::SubscriberExt;
use tracing_subscriber::util::SubscriberInitExt;
use tracing_subscriber::{EnvFilter, Layer, fmt};

/// Logs go to standard error: readable on a terminal, JSON for machines. `RUST_LOG` says how much,
/// `usually` without it.
pub fn start(usually: &str) {
    let wanted = EnvFilter::try_from_default_env().unwrap_or_else(|_| EnvFilter::new(usually));
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
}

/// What libraries say below a warning quotes bodies, statements and values: it cannot be asked for.
fn is_fit_to_print(event: &Metadata<'_>) -> bool {
    event.target().starts_with("noonwater") || *event.level() <= Level::WARN
}
