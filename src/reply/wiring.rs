//! Panels, their wiring and what they do to a pump, in words.

use super::fit::Wordings;
use super::numbers::about;
use super::wording::{Words, piece};
use crate::language::ReplyTrouble;
use crate::sizing::advice::cure::Cure;
use crate::sizing::set::verdict::Verdict;

impl Words<'_> {
    /// What spares a pump that is driven too hard, with what it does to the verdict.
    pub fn over_driven(&self, cure: Option<&Cure>) -> Result<Vec<String>, ReplyTrouble> {
        let Some(cure) = cure else { return self.wordings("over-driven-always", &[]) };
        let panels = ("panels", self.number(f64::from(cure.panel_count)));
        match (cure.verdict, cure.area_m2) {
            (Some(Verdict::Enough) | None, _) | (_, None) => self.wordings("over-driven", &[panels]),
            (_, Some(area_m2)) => self.wordings("over-driven-less", &[panels, ("area", self.text(about(area_m2)))]),
        }
    }

    /// How panels are joined, in plain words.
    pub fn joined(&self, series: u32, parallel: u32, unused: u32) -> Result<Vec<Wordings>, ReplyTrouble> {
        let mut pieces = Vec::new();
        if series * parallel > 1 {
            let how = match (series, parallel) {
                (_, 1) => "row",
                (1, _) => "side",
                _ => "both",
            };
            let values = [
                ("how", how.into()),
                ("series", self.number(f64::from(series))),
                ("parallel", self.number(f64::from(parallel))),
            ];
            pieces.push(piece("joined", self.wordings("joined", &values)?));
        }
        if unused > 0 {
            let left = self.wordings("left-over", &[("panels", self.number(f64::from(unused)))])?;
            pieces.push(piece("left-over", left));
        }
        Ok(pieces)
    }

    /// Cable, breaker, and the fuse that each string may want.
    pub fn wire(
        &self,
        wire_m: f64,
        size_mm2: f64,
        breaker_a: Option<f64>,
        string_fuse_a: Option<f64>,
    ) -> Result<Vec<Wordings>, ReplyTrouble> {
        let metres = ("metres", self.number(wire_m));
        let size = ("size", self.number(size_mm2));
        let wire = match breaker_a {
            Some(amps) => self.wordings("wire", &[metres, size, ("breaker", self.number(amps))])?,
            None => self.wordings("wire-no-breaker", &[metres, size])?,
        };
        let mut pieces = vec![piece("wire", wire)];
        if let Some(amps) = string_fuse_a {
            let fuse = self.wordings("string-fuse", &[("fuse", self.number(amps))])?;
            pieces.push(piece("string-fuse", fuse));
        }
        Ok(pieces)
    }
}
