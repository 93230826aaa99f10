//! A crop's growth: its coefficient and its roots by its age, and what of it a nursery has.

use super::crop::{Crop, Stage};

/// Days of a crop's four stages of growth: at the start, while it develops, in mid-season, late.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lengths {
    pub crop: &'static str,
    pub days: [f64; 4],
}

/// Lengths of the stages, FAO-56 (1998) table 11, the row named of those that it has for a crop. Crops that stand for years and
/// have none are in mid-season all year.
#[rustfmt::skip]
pub const LENGTHS: [Lengths; 37] = [
    lengths("mixed_vegetables", [20.0, 25.0, 35.0, 15.0]), // small vegetables, FAO training manual 3; memory
    lengths("tomato", [30.0, 40.0, 40.0, 25.0]),           // arid region
    lengths("onion", [15.0, 25.0, 70.0, 40.0]),            // Mediterranean
    lengths("green_onion", [25.0, 30.0, 10.0, 5.0]),       // Mediterranean
    lengths("cabbage", [20.0, 30.0, 20.0, 10.0]),          // crucifers, Mediterranean
    lengths("kale", [20.0, 30.0, 20.0, 10.0]),             // crucifers
    lengths("carrot", [20.0, 30.0, 30.0, 20.0]),           // arid climate
    lengths("pepper", [30.0, 35.0, 40.0, 20.0]),           // Europe and Mediterranean
    lengths("eggplant", [30.0, 40.0, 40.0, 20.0]),         // arid region
    lengths("okra", [30.0, 35.0, 40.0, 20.0]),             // not in the table: the pepper's row stands in (practice)
    lengths("lettuce", [25.0, 35.0, 30.0, 10.0]),          // arid region
    lengths("spinach", [20.0, 20.0, 20.0, 5.0]),           // Mediterranean
    lengths("cucumber", [20.0, 30.0, 40.0, 15.0]),         // arid region
    lengths("watermelon", [20.0, 30.0, 30.0, 30.0]),       // Italy
    lengths("sweet_melon", [25.0, 35.0, 40.0, 20.0]),      // Mediterranean
    lengths("pumpkin", [20.0, 30.0, 30.0, 20.0]),          // Mediterranean
    lengths("squash", [25.0, 35.0, 25.0, 15.0]),           // Mediterranean and arid region
    lengths("broccoli", [35.0, 45.0, 40.0, 15.0]),         // California desert
    lengths("cauliflower", [35.0, 50.0, 40.0, 15.0]),      // California desert
    lengths("celery", [25.0, 40.0, 95.0, 20.0]),           // semi-arid
    lengths("turnip", [15.0, 25.0, 20.0, 10.0]),           // not in the table: table beets stand in (practice)
    lengths("green_bean", [20.0, 30.0, 30.0, 10.0]),       // California, Mediterranean
    lengths("dry_bean", [20.0, 30.0, 40.0, 20.0]),         // continental climates
    lengths("groundnut", [25.0, 35.0, 45.0, 25.0]),        // dry season, West Africa
    lengths("soybean", [15.0, 15.0, 40.0, 15.0]),          // tropics
    lengths("maize", [20.0, 35.0, 40.0, 30.0]),            // Nigeria
    lengths("sweet_maize", [20.0, 20.0, 30.0, 10.0]),      // Philippines
    lengths("sorghum", [20.0, 35.0, 40.0, 30.0]),          // Pakistan, Mediterranean
    lengths("millet", [15.0, 25.0, 40.0, 25.0]),           // Pakistan
    lengths("potato", [25.0, 30.0, 40.0, 30.0]),           // semi-arid climate
    lengths("sweet_potato", [15.0, 30.0, 50.0, 30.0]),     // tropics
    lengths("cassava", [20.0, 40.0, 90.0, 60.0]),          // tropics, first year
    lengths("cassava_second_year", [150.0, 40.0, 110.0, 60.0]),
    lengths("banana", [120.0, 90.0, 120.0, 60.0]),         // Mediterranean, first year
    lengths("banana_second_year", [120.0, 60.0, 180.0, 5.0]), // Mediterranean
    lengths("sugar_cane", [35.0, 60.0, 190.0, 120.0]),     // virgin, low latitudes
    lengths("pineapple", [60.0, 120.0, 600.0, 10.0]),      // Hawaii
];

/// Roots of a seedling, m (practice).
pub const SEEDLING_ROOT_M: f64 = 0.1;

/// Days after planting in which young plants are watered every day (practice).
pub const YOUNG_DAYS: f64 = 14.0;

/// How old the plants are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Age {
    /// In mid-season, the thirstiest, where nothing is told.
    MidSeason,
    /// Raised close together, to be planted out.
    Nursery,
    /// Days since they were planted.
    Days(f64),
}

const fn lengths(crop: &'static str, days: [f64; 4]) -> Lengths {
    Lengths { crop, days }
}

/// The lengths of a crop's stages; none of one that stands for years.
pub fn lengths_of(crop: &Crop) -> Option<[f64; 4]> {
    LENGTHS.iter().find(|lengths| lengths.crop == crop.name).map(|lengths| lengths.days)
}

impl Age {
    /// Crop coefficient at this age, where that of mid-season is `mid`: level at the start and in mid-season, on a straight line
    /// between and afterwards, `Kc = Kc_prev + (i - sum L_prev)/L (Kc_next - Kc_prev)` (FAO-56 eq. 66); after its last day that
    /// of the end. A nursery has that of the start.
    pub fn coefficient(self, crop: &Crop, mid: f64) -> f64 {
        let (start, end) = (crop.coefficient(Stage::Early), crop.coefficient(Stage::Late));
        let (age, [initial, developing, middle, late]) = match (self, lengths_of(crop)) {
            (Age::Nursery, _) => return start,
            (Age::MidSeason, _) | (Age::Days(_), None) => return mid,
            (Age::Days(age), Some(days)) => (age, days),
        };
        let on_line = |from: f64, to: f64, since: f64, days: f64| from + (to - from) * (since / days).clamp(0.0, 1.0);
        if age <= initial + developing {
            on_line(start, mid, age - initial, developing)
        } else {
            on_line(mid, end, age - initial - developing - middle, late)
        }
    }

    /// Depth of the roots, m: that of a seedling at planting, then on a straight line to table 22's shallow end, which they reach
    /// with mid-season (FAO-56 annex 8; memory).
    pub fn root_m(self, crop: &Crop) -> f64 {
        let full_m = crop.root_m[0];
        match (self, lengths_of(crop)) {
            (Age::Nursery, _) => SEEDLING_ROOT_M,
            (Age::MidSeason, _) | (Age::Days(_), None) => full_m,
            (Age::Days(age), Some([initial, developing, ..])) => {
                SEEDLING_ROOT_M + (full_m - SEEDLING_ROOT_M) * (age / (initial + developing)).clamp(0.0, 1.0)
            }
        }
    }

    /// Whether the plants are so young that they are watered every day, whatever the soil holds (practice).
    pub fn wants_water_daily(self) -> bool {
        match self {
            Age::MidSeason => false,
            Age::Nursery => true,
            Age::Days(age) => age < YOUNG_DAYS,
        }
    }
}
