//! Charts drawn on the server as SVG, readable without colour: lines differ in their dashes as well.

use std::fmt::Write;

use super::words::said;

const WIDTH: f64 = 640.0;
const HEIGHT: f64 = 320.0;
const LEFT: f64 = 56.0;
const RIGHT: f64 = 16.0;
const TOP: f64 = 36.0;
const BOTTOM: f64 = 54.0;

/// No bar that stands for something is lower.
const BAR_LEAST: f64 = 2.5;

/// One line of a chart, by its class in the style sheet.
pub struct Curve {
    pub class: &'static str,
    pub name: &'static str,
    pub points: Vec<(f64, f64)>,
}

/// A chart of lines, with bars behind them and a point marked.
#[derive(Default)]
pub struct Chart<'a> {
    pub id: &'static str,
    pub title: String,
    pub description: String,
    pub x_name: &'static str,
    pub y_name: &'a str,
    /// Names along the foot, at 0, 1, 2 ...; none for numbers.
    pub x_names: Vec<String>,
    pub curves: Vec<Curve>,
    pub bars: Vec<f64>,
    pub bars_name: &'static str,
    /// The bar that stands for what is in use.
    pub used_bar: Option<usize>,
    /// Each bar's figure is written above it.
    pub bar_values: bool,
    pub mark: Option<(f64, f64)>,
    /// What is written beside the point.
    pub mark_name: String,
}

/// A chart with the numbers it is drawn from.
pub struct Figure {
    pub title: String,
    pub svg: String,
    pub head: Vec<String>,
    pub rows: Vec<Vec<String>>,
}

/// A round step that divides a length into about five.
fn step_of(length: f64) -> f64 {
    if length.is_nan() || length <= 0.0 {
        return 1.0;
    }
    let raw = length / 5.0;
    let power = 10_f64.powf(raw.log10().floor());
    let digit = raw / power;
    power
        * if digit <= 1.0 {
            1.0
        } else if digit <= 2.0 {
            2.0
        } else if digit <= 5.0 {
            5.0
        } else {
            10.0
        }
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

impl Chart<'_> {
    fn points(&self) -> impl Iterator<Item = (f64, f64)> {
        self.curves.iter().flat_map(|curve| curve.points.iter().copied()).chain(self.mark)
    }

    /// The chart as SVG.
    pub fn svg(&self) -> String {
        let names = self.x_names.len() as f64;
        let greatest = |values: &mut dyn Iterator<Item = f64>| values.filter(|v| v.is_finite()).fold(0.0, f64::max);
        let x_from = if names > 0.0 { -0.5 } else { 0.0 };
        let x_to = if names > 0.0 { names - 0.5 } else { greatest(&mut self.points().map(|(x, _)| x)).max(1e-9) };
        let y_step = step_of(greatest(&mut self.points().map(|(_, y)| y).chain(self.bars.iter().copied())));
        let y_most = greatest(&mut self.points().map(|(_, y)| y).chain(self.bars.iter().copied()));
        let y_to = (y_most / y_step).ceil().max(1.0) * y_step;
        let x = |value: f64| LEFT + (value - x_from) / (x_to - x_from) * (WIDTH - LEFT - RIGHT);
        let y = |value: f64| HEIGHT - BOTTOM - value / y_to * (HEIGHT - TOP - BOTTOM);
        let mut svg = String::new();
        let mut add = |text: std::fmt::Arguments<'_>| {
            // Writing to a text cannot fail.
            let _ = svg.write_fmt(text);
        };
        let id = self.id;
        add(format_args!(
            "<svg role=\"img\" aria-labelledby=\"{id}-t {id}-d\" viewBox=\"0 0 {WIDTH} {HEIGHT}\">\
             <title id=\"{id}-t\">{}</title><desc id=\"{id}-d\">{}</desc>",
            escaped(&self.title),
            escaped(&self.description)
        ));
        let mut at = 0.0;
        while at <= y_to * 1.0001 {
            let height = y(at);
            add(format_args!(
                "<line class=\"grid\" x1=\"{LEFT}\" x2=\"{}\" y1=\"{height:.1}\" y2=\"{height:.1}\"/>\
                 <text x=\"{}\" y=\"{:.1}\" text-anchor=\"end\">{}</text>",
                WIDTH - RIGHT,
                LEFT - 6.0,
                height + 4.0,
                short(at)
            ));
            at += y_step;
        }
        let bar = (x(1.0) - x(0.0)) * 0.7;
        for (index, value) in self.bars.iter().enumerate() {
            // One that is not nothing is seen, however small beside the others.
            let height = if *value > 0.0 { (y(0.0) - y(*value)).max(BAR_LEAST) } else { 0.0 };
            let class = if self.used_bar == Some(index) { "bar used" } else { "bar" };
            add(format_args!(
                "<rect class=\"{class}\" x=\"{:.1}\" y=\"{:.1}\" width=\"{bar:.1}\" height=\"{height:.1}\"/>",
                x(index as f64) - bar / 2.0,
                y(0.0) - height,
            ));
            if self.bar_values {
                add(format_args!(
                    "<text class=\"figure\" x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"middle\">{}</text>",
                    x(index as f64),
                    y(0.0) - height - 4.0,
                    short(*value)
                ));
            }
        }
        let foot = HEIGHT - BOTTOM + 20.0;
        if self.x_names.is_empty() {
            let step = step_of(x_to);
            let mut at = 0.0;
            while at <= x_to * 1.0001 {
                add(format_args!("<text x=\"{:.1}\" y=\"{foot}\" text-anchor=\"middle\">{}</text>", x(at), short(at)));
                at += step;
            }
        }
        for (index, name) in self.x_names.iter().enumerate() {
            add(format_args!(
                "<text x=\"{:.1}\" y=\"{foot}\" text-anchor=\"middle\">{}</text>",
                x(index as f64),
                escaped(name)
            ));
        }
        add(format_args!("<path class=\"axis\" fill=\"none\" d=\"M{LEFT} {TOP}V{}H{}\"/>", HEIGHT - BOTTOM, WIDTH - RIGHT));
        add(format_args!(
            "<text x=\"{}\" y=\"{}\" text-anchor=\"middle\">{}</text>",
            (LEFT + WIDTH - RIGHT) / 2.0,
            HEIGHT - 8.0,
            escaped(&said(self.x_name))
        ));
        for curve in &self.curves {
            let points: Vec<String> = curve.points.iter().map(|(px, py)| format!("{:.1},{:.1}", x(*px), y(*py))).collect();
            add(format_args!("<polyline class=\"{}\" points=\"{}\"/>", curve.class, points.join(" ")));
        }
        if let Some((mx, my)) = self.mark {
            add(format_args!("<circle class=\"dot\" cx=\"{:.1}\" cy=\"{:.1}\" r=\"6\"/>", x(mx), y(my)));
            // Written to the side that has room.
            let (shift, anchor) = if x(mx) > WIDTH / 2.0 { (-12.0, "end") } else { (12.0, "start") };
            add(format_args!(
                "<text class=\"mark\" x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"{anchor}\">{}</text>",
                x(mx) + shift,
                y(my) + 18.0,
                escaped(&self.mark_name)
            ));
        }
        add(format_args!("<text x=\"4\" y=\"14\">{}</text>", escaped(&said(self.y_name))));
        let mut key_x = LEFT + 70.0;
        let keys = self.curves.iter().map(|curve| (curve.class, curve.name));
        for (class, name) in keys.chain((!self.bars.is_empty()).then_some(("bar", self.bars_name))) {
            if class == "bar" {
                add(format_args!("<rect class=\"bar\" x=\"{key_x}\" y=\"4\" width=\"28\" height=\"12\"/>"));
            } else {
                add(format_args!("<line class=\"{class}\" x1=\"{key_x}\" x2=\"{}\" y1=\"10\" y2=\"10\"/>", key_x + 28.0));
            }
            let name = said(name);
            add(format_args!("<text x=\"{}\" y=\"14\">{}</text>", key_x + 34.0, escaped(&name)));
            // Letters are this wide at most: on a phone they are drawn larger.
            key_x += 60.0 + 10.5 * name.chars().count() as f64;
        }
        add(format_args!("</svg>"));
        svg
    }
}

fn short(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_chart_names_itself_and_draws_every_point_inside() {
        let curve = Curve { class: "one", name: "flat", points: vec![(0.0, 0.0), (10.0, 7.3)] };
        let chart = Chart { id: "c", title: "a < b".to_owned(), curves: vec![curve], ..Chart::default() };
        let svg = chart.svg();
        assert!(svg.contains("role=\"img\"") && svg.contains("a &lt; b"));
        let points = svg.split("points=\"").nth(1).unwrap().split('"').next().unwrap();
        for point in points.split(' ') {
            let (x, y) = point.split_once(',').unwrap();
            let (x, y): (f64, f64) = (x.parse().unwrap(), y.parse().unwrap());
            assert!((LEFT..=WIDTH - RIGHT).contains(&x) && (TOP..=HEIGHT - BOTTOM).contains(&y), "{point}");
        }
    }

    #[test]
    fn steps_are_round() {
        for (length, step) in [(10.0, 2.0), (7.0, 2.0), (0.9, 0.2), (400.0, 100.0), (0.0, 1.0)] {
            assert!((step_of(length) - step).abs() < 1e-12, "{length}");
        }
    }
}
