//! `noonwater handset`: a phone in the terminal.

use std::io::{IsTerminal, Write};

use serde_json::Value;
use tokio::io::{AsyncBufReadExt, BufReader};

use super::house::House;
use super::{ConfigFile, Failure};
use crate::answering::Answering;
use crate::config::{self, Config};
use crate::lines::handset::{FIRST_PHONE, Handset, LINE, Screen, Shown, Typed};
use crate::lines::http;
use crate::printable::shown;

/// The widest line of a small phone's screen, characters.
const SCREEN_WIDTH: usize = 40;

/// Type messages as from a phone and see the replies; Ctrl-D ends
#[derive(clap::Args)]
#[command(
    after_help = "Example:\n  echo 'lift 3 pipe 30 panel 3x100 garden 900' | noonwater handset --number +447700900123"
)]
pub struct Arguments {
    #[command(flatten)]
    file: ConfigFile,
    /// The phone's number, +447700900000 to +447700900999
    #[arg(long, default_value = FIRST_PHONE)]
    number: String,
}

pub async fn run(arguments: Arguments) -> Result<(), Failure> {
    let config = config::read(arguments.file.config.as_deref())?;
    let client = http::client(false).no_proxy().build();
    let client = client.map_err(|_| Failure::Failed("no connection can be made; try again".to_owned()))?;
    if is_running(&client, &config).await {
        return converse(&arguments.number, &Network::Service(client, Box::new(config))).await;
    }
    let house = House::open(&config, false, |line| line == LINE).await?;
    let network = Network::House(house.lines.handset(&house.answering));
    let done = tokio::select! {
        done = converse(&arguments.number, &network) => done,
        _ = tokio::signal::ctrl_c() => Ok(()),
    };
    house.close().await;
    done
}

/// What the phone is connected to: the service that runs, or one of its own.
enum Network {
    Service(reqwest::Client, Box<Config>),
    House(Handset<Answering>),
}

async fn is_running(client: &reqwest::Client, config: &Config) -> bool {
    let answer = client.get(format!("http://{}/healthz", config.listen)).send().await;
    answer.is_ok_and(|answer| answer.status().is_success())
}

impl Network {
    async fn say(&self, typed: &Typed) -> Result<Shown, Failure> {
        match self {
            Self::House(handset) => {
                handset.say(typed).await.map_err(|refusal| Failure::Input(refusal.message().to_owned()))
            }
            Self::Service(client, config) => {
                let lost = |_| Failure::Failed("the service does not answer; start it and try again".to_owned());
                let url = format!("http://{}/handset/messages", config.listen);
                let answer = client.post(url).json(typed).send().await.map_err(lost)?;
                let is_done = answer.status().is_success();
                let body: Value = answer.json().await.map_err(lost)?;
                if !is_done {
                    let sentence = body["error"]["message"].as_str().unwrap_or("the service refused this; write again");
                    return Err(Failure::Input(sentence.to_owned()));
                }
                let what = |_| Failure::Failed("another version of the service is running; start this one".to_owned());
                serde_json::from_value(body).map_err(what)
            }
        }
    }
}

async fn converse(number: &str, network: &Network) -> Result<(), Failure> {
    let is_typed = std::io::stdin().is_terminal();
    let mut lines = BufReader::new(tokio::io::stdin()).lines();
    loop {
        if is_typed {
            show("> ")?;
        }
        let line = lines.next_line().await;
        let Some(text) = line.map_err(|_| Failure::Input("the input is not UTF-8 text; send UTF-8".to_owned()))? else {
            return Ok(());
        };
        let typed = Typed { number: number.to_owned(), text };
        match network.say(&typed).await {
            Ok(shown) => show(&frame(shown.reply.as_ref()))?,
            // On a terminal one may write again.
            Err(Failure::Input(sentence)) if is_typed => show(&format!("{sentence}\n"))?,
            Err(failure) => return Err(failure),
        }
    }
}

fn show(text: &str) -> Result<(), Failure> {
    let mut out = std::io::stdout().lock();
    let written = out.write_all(text.as_bytes()).and_then(|()| out.flush());
    written.map_err(|_| Failure::Failed("nothing more can be written to the output".to_owned()))
}

/// The phone's screen: each part in a frame, its characters counted below.
fn frame(screen: Option<&Screen>) -> String {
    let Some(screen) = screen else { return "(no reply: this number has opted out)\n".to_owned() };
    let edge = "─".repeat(SCREEN_WIDTH + 2);
    let total = screen.parts.len();
    let mut shown = String::new();
    for (index, part) in screen.parts.iter().enumerate() {
        shown += &format!("┌{edge}┐\n");
        for line in wrapped(&part.text) {
            let pad = " ".repeat(SCREEN_WIDTH - line.chars().count());
            shown += &format!("│ {line}{pad} │\n");
        }
        let (name, units, room) = (screen.encoding_name(), part.units, part.room);
        shown += &format!("└{edge}┘\n  part {} of {total} · {units} of {room} characters · {name}\n", index + 1);
    }
    shown
}

/// Lines no wider than the screen, broken at spaces where there are some.
fn wrapped(text: &str) -> Vec<String> {
    let mut lines = Vec::new();
    for paragraph in text.split('\n') {
        // A terminal must not obey what a message says.
        let mut rest: Vec<char> = shown(paragraph).chars().collect();
        while rest.len() > SCREEN_WIDTH {
            let space = rest[..=SCREEN_WIDTH].iter().rposition(|c| *c == ' ').filter(|at| *at > 0);
            let (end, next) = space.map_or((SCREEN_WIDTH, SCREEN_WIDTH), |at| (at, at + 1));
            lines.push(rest[..end].iter().collect());
            rest.drain(..next);
        }
        lines.push(rest.into_iter().collect());
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_frame_holds_the_whole_text_and_counts_it() {
        let text = "Enough: 9400 l a day at noon waters 1500 m2 in this month, and joints stay dry.";
        let shown = frame(Some(&Screen::of(text)));
        let inside: Vec<&str> = shown.lines().filter_map(|line| line.strip_prefix("│ ")).collect();
        let words: Vec<&str> = inside.iter().flat_map(|line| line.trim_end_matches('│').split_whitespace()).collect();
        assert_eq!(words.join(" "), text);
        assert!(shown.contains("part 1 of 1 · 79 of 160 characters · GSM 7-bit"), "{shown}");
        let widths: Vec<usize> = shown.lines().take(3).map(|line| line.chars().count()).collect();
        assert_eq!(widths, [SCREEN_WIDTH + 4; 3]);
    }

    #[test]
    fn a_message_cannot_steer_the_terminal() {
        assert_eq!(wrapped("a\u{1b}[2Jb"), ["a [2Jb"]);
    }
}
