//! `noonwater honesty`: how often what is told is so, by a simulation that repeats itself.

use super::Failure;
use crate::demo::{PLACE_JSON, PRICES_TOML};
use crate::honesty::{Kind, Report, Tally, simulate};
use crate::sizing::Market;
use crate::{placefile, pricefile};

/// Show how often verdicts, changes and proposals hold, in a seeded simulation at the demo place
#[derive(clap::Args)]
#[command(after_help = "Example:\n  noonwater honesty --sheets 1000")]
pub struct Arguments {
    /// Sheets of each kind
    #[arg(long, default_value_t = 1000, value_name = "N")]
    sheets: u32,
    /// The reports as JSON
    #[arg(long)]
    json: bool,
}

pub fn run(arguments: &Arguments) -> Result<(), Failure> {
    let failed = |error: &dyn std::fmt::Display| Failure::Failed(error.to_string());
    let climate = placefile::parse(PLACE_JSON, false).map_err(|error| failed(&error))?;
    let market: Market = pricefile::parse(PRICES_TOML, false).map_err(|error| failed(&error))?.into();
    let mut reports = Vec::new();
    for kind in Kind::ALL {
        reports.push(simulate(kind, arguments.sheets, &climate, &market).map_err(|error| failed(&error))?);
    }
    if arguments.json {
        println!("{}", serde_json::to_string_pretty(&reports).map_err(|error| failed(&error))?);
        return Ok(());
    }
    println!("Of each kind {} sheets, gardens of 1/1.5 to 1/0.8 of the area served. Per cent that held:", arguments.sheets);
    let head = ["enough", "short", "tight", "unfit", "changes", "really", "range"];
    println!("{:<16}{}", "", head.map(|name| format!("{name:>9}")).concat());
    reports.iter().for_each(row);
    println!("\nBeside two rules of thumb: enough and short that held, and what each thousand sheets would have wasted.");
    let ways: [(&str, Way); 3] = [
        ("this engine", |report| &report.engine),
        ("sun hours x label", |report| &report.peak_sun_hours),
        ("no threshold", |report| &report.no_threshold),
    ];
    for report in reports.iter().filter(|report| report.engine.enough.of + report.engine.short.of > 0) {
        for (name, tally) in ways {
            let tally = tally(report);
            let a_thousand = tally.wasted * 1000.0 / f64::from(report.sheets.max(1));
            let (enough, short) = (tally.enough.percent(), tally.short.percent());
            println!("{:<16}{name:<20}{enough:>8.1}{short:>8.1}{a_thousand:>12.0} {}", report.kind, market.prices.currency);
        }
    }
    Ok(())
}

/// One kind's line.
fn row(report: &Report) {
    let unfit = 100.0 * f64::from(report.unfit) / f64::from(report.sheets.max(1));
    let values = [
        report.engine.enough.percent(),
        report.engine.short.percent(),
        report.tight.percent(),
        unfit,
        report.sent_back.percent(),
        report.sent_back_really.percent(),
        report.in_range.percent(),
    ];
    println!("{:<16}{}", report.kind, values.map(|value| format!("{value:>9.1}")).concat());
}

/// What one way of working out came to.
type Way = fn(&Report) -> &Tally;
