//! Changes and money in words.

use rust_decimal::Decimal;

use super::fit::Wordings;
use super::numbers::{about, plain};
use super::wording::{Words, count, piece};
use crate::language::{Length, ReplyTrouble, ReplyValue as Value};
use crate::sizing::advice::changes::Change;
use crate::sizing::money::costs::Money;
use crate::talk::ProposedSet;

impl Words<'_> {
    pub fn fix(
        &self,
        place: usize,
        changes: &[Change],
        area_m2: f64,
        added_cost: Option<Decimal>,
        currency: &str,
    ) -> Result<Vec<String>, ReplyTrouble> {
        let what = changes.iter().map(|change| self.change(*change)).collect::<Result<Vec<_>, _>>()?.join(" + ");
        let place = ("place", self.number(place as f64));
        let what = ("what", what.into());
        let area = ("area", self.text(about(area_m2)));
        match added_cost {
            Some(cost) if cost.is_zero() => self.wordings("fix-free", &[place, what, area]),
            Some(cost) if cost.is_sign_negative() => {
                self.wordings("fix-saves", &[place, what, area, ("cost", self.amount(-cost, currency))])
            }
            Some(cost) => self.wordings("fix", &[place, what, area, ("cost", self.amount(cost, currency))]),
            None => self.wordings("fix-no-price", &[place, what, area]),
        }
    }

    /// A whole set to buy; of several pumps each has its own parts: `4x12V`, as with panels.
    pub fn proposal(&self, set: &ProposedSet) -> Result<Vec<Wordings>, ReplyTrouble> {
        let written = |value: f64| self.language.numbers.write(plain(value));
        let each = |value: f64| -> Value<'static> {
            if set.pump_count > 1 { format!("{}x{}", set.pump_count, written(value)).into() } else { written(value).into() }
        };
        let mut values = vec![
            ("panels", format!("{}x{}", set.panel_count, written(set.panel_w)).into()),
            ("count", set.panel_count.into()),
            ("volts", each(set.label_v)),
            ("flow", self.number(set.flow_l_h)),
            ("bore", each(set.bore_mm)),
            ("wire", each(set.wire_mm2)),
        ];
        let key = match set.first_cost {
            Some(cost) => {
                values.push(("cost", self.amount(cost, &set.currency)));
                "proposal"
            }
            None => "proposal-no-price",
        };
        // A current that no usual breaker carries is said, not sold.
        let breakers = match set.breaker_a {
            Some(amps) => self.wordings("proposal-breaker", &[("breaker", each(amps))])?,
            None => self.wordings("proposal-no-breaker", &[])?,
        };
        let mut texts = Vec::new();
        for breaker in [breakers.first(), breakers.last()].into_iter().flatten() {
            let with: Vec<_> = values.iter().cloned().chain([("breaker", breaker.clone().into())]).collect();
            texts.extend(self.wordings(key, &with)?);
        }
        texts.sort_by_key(|text| std::cmp::Reverse(text.chars().count()));
        texts.dedup();
        let mut pieces = vec![piece("proposal", texts)];
        if set.pump_count > 1 {
            pieces.push(piece("each-pump", self.wordings("each-pump", &[])?));
        }
        Ok(pieces)
    }

    fn change(&self, change: Change) -> Result<String, ReplyTrouble> {
        let say =
            |key: &str, name: &str, value: Value<'_>| self.language.replies.format(key, Length::Long, &[(name, value)]);
        match change {
            Change::BoreMm(bore) => say("change-bore", "bore", self.number(bore)),
            Change::PanelCount(count) => say("change-panels", "count", count.into()),
            Change::Turned => self.language.replies.format("change-turned", Length::Long, &[]),
            Change::PumpCount(count) => say("change-sets", "count", count.into()),
            Change::WireMm2(size) => say("change-wire", "size", self.number(size)),
            Change::Watering(way) => {
                let word = self.language.word("watering", way.name()).unwrap_or_default();
                say("change-watering", "watering", word.into())
            }
            Change::GardenM2(garden) => say("change-garden", "garden", self.number(garden)),
        }
    }

    /// An amount as a whole number with its currency.
    pub fn amount(&self, amount: Decimal, currency: &str) -> Value<'static> {
        format!("{} {currency}", amount.round().normalize()).into()
    }

    pub fn cost(&self, money: &Money) -> Result<Vec<Wordings>, ReplyTrouble> {
        let amount = |cost: Decimal| self.amount(cost, &money.currency);
        let mut pieces = Vec::new();
        match (money.first_cost, money.yearly_cost) {
            (Some(first), Some(yearly)) => {
                let texts = self.wordings("cost", &[("first", amount(first)), ("yearly", amount(yearly))])?;
                pieces.push(piece("cost", texts));
            }
            (Some(first), None) => {
                pieces.push(piece("cost", self.wordings("cost-first", &[("first", amount(first))])?));
            }
            _ => pieces.push(piece("cost", self.wordings("cost-unknown", &[])?)),
        }
        if let (Some(first), Some(yearly)) = (money.petrol_first_cost, money.petrol_yearly_cost) {
            let texts = self.wordings("petrol", &[("first", amount(first)), ("yearly", amount(yearly))])?;
            pieces.push(piece("petrol", texts));
        }
        if let Some(months) = money.payback_months {
            let texts = if months == 0 {
                self.wordings("payback-at-once", &[])?
            } else {
                self.wordings("payback", &[("months", count(months as usize))])?
            };
            pieces.push(piece("payback", texts));
        }
        Ok(pieces)
    }
}
