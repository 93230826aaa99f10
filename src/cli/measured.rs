//! The figures in words.

use crate::measure::{Corpus, Grade, Half, Outcome, Row};

/// The figures of each half.
pub fn report(corpus: &Corpus, outcomes: &[Outcome]) -> Vec<String> {
    Half::ALL.into_iter().flat_map(|half| of_half(corpus, outcomes, half)).collect()
}

fn of_half(corpus: &Corpus, outcomes: &[Outcome], half: Half) -> Vec<String> {
    let all: Vec<(&Row, &Outcome)> = corpus.rows.iter().zip(outcomes).filter(|(row, _)| row.half == half).collect();
    let mut lines = vec![format!("{} {}: {} messages", corpus.code, half.name(), all.len())];
    lines.push(format!("  all          {}", grades(&all)));
    let mut kinds: Vec<&str> = all.iter().map(|(row, _)| row.kind.as_str()).collect();
    kinds.sort_unstable();
    kinds.dedup();
    for kind in kinds {
        let of_kind: Vec<_> = all.iter().filter(|(row, _)| row.kind == kind).copied().collect();
        lines.push(format!("  {kind:<12} {}", grades(&of_kind)));
    }
    let (dangers, others): (Vec<_>, Vec<_>) = all.into_iter().partition(|(row, _)| row.expect.contains("danger:"));
    let seen = |rows: &[(&Row, &Outcome)]| rows.iter().filter(|(_, outcome)| outcome.danger).count();
    lines.push(format!(
        "  danger       seen {} of {} ({}); false alarms {} of {} ({})",
        seen(&dangers),
        dangers.len(),
        percent(seen(&dangers), dangers.len()),
        seen(&others),
        others.len(),
        percent(seen(&others), others.len())
    ));
    lines
}

fn grades(rows: &[(&Row, &Outcome)]) -> String {
    let of = |grade: Grade| rows.iter().filter(|(_, outcome)| outcome.grade == grade).count();
    [(Grade::AsMeant, "as meant"), (Grade::Partly, "partly"), (Grade::Not, "not"), (Grade::Wrong, "silently wrong")]
        .map(|(grade, name)| format!("{name} {} ({})", of(grade), percent(of(grade), rows.len())))
        .join(", ")
}

fn percent(some: usize, all: usize) -> String {
    if all == 0 { "-".to_owned() } else { format!("{:.1} %", 100.0 * some as f64 / all as f64) }
}

/// Every message of a half that did not come out as meant, with what was missed, what was too much, and the reply.
pub fn misses(corpus: &Corpus, outcomes: &[Outcome], half: Half, kind: Option<&str>) -> Vec<String> {
    let rows = corpus.rows.iter().zip(outcomes).filter(|(row, outcome)| {
        row.half == half && outcome.grade != Grade::AsMeant && kind.is_none_or(|kind| row.kind == kind)
    });
    rows.map(|(row, outcome)| {
        let before = if row.before.is_empty() { String::new() } else { format!("[{}] ", row.before) };
        format!(
            "{:?}\t{}\t{before}{}\twants {}\tmissed {}\ttoo much {}\t{}",
            outcome.grade,
            row.kind,
            row.text,
            row.expect,
            outcome.missed.join(" "),
            outcome.extra.join(" "),
            outcome.reply.replace('\n', " / ")
        )
    })
    .collect()
}
