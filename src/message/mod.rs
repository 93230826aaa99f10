//! The grammar: the text of a message in, facts and troubles with their positions out.
//!
//! It never fails, never guesses without saying so, never writes a sentence, and knows no word of any language: words
//! come from the language folders. What it understood stays understood whatever else the message holds.
//!
//! ```text
//! message   := (said | command | name of a language | word of no weight)*   in any order, upper or lower case
//! said      := field [=|:] value | value field | value                      the last where only one field takes it
//!            | four values                                                  lift, pipe, panel watts, garden
//!            | one value                                                    of the field that was asked about
//!
//! lift      := length | length - length              now, and at low water     lift 5   5m lift   lift 4-6   16' 6"
//! low       := length                                                          low 6
//! pipe      := length | bore | both                                            pipe 40m 2in   pipe 40 x 50mm
//! bore      := length                                                          bore 50mm
//! panel     := count x power | count power | power | count   panel 3x100   3 panels of 100w   100w x 3   panel 300w
//! stance    := word [angle]                                                    flat   fixed 20   tilt 20   turned
//! pump      := (volts | flow | head | amps | count | class | electronics)+     pump 12v 9000 l/h 6m 10a
//! suction   := length                                                          suction 3   pump 3 m above water
//! well      := flow                                                            well 2000 l/h
//! garden    := area | length x length | number of an own measure              garden 1/2 ha   garden 50x30
//! crop      := word                                                            tomato   crop tomato
//! soil      := word                                                            clay   soil clay
//! month     := word | number                                                   august   month 8
//! watering  := word                                                            drip
//! wire      := length | size | both                                            wire 10m 4mm2
//! place     := words up to the next number, comma or field | coordinates       place kito   place -8.2 35.1
//! test      := litres seconds [height] [clock] [sky]                           test 75 l 40 s at 3 10:30 hazy
//!
//! number    := digits with the language's signs | fraction | digits fraction   12500  12,500  12 500  1/2  1 1/2  ½
//!              any script's digits; o for 0 and l or i for 1 between digits
//! ```
//!
//! From text to reading: `fold` (in `language`) evens out letters and signs; [`lex`] cuts numbers and words; `elements`
//! looks the words up and settles slips of the thumb; `gather`, `values` and `place` make [`items`] of them, numbers tied
//! to units and to each other; `grave` tells where a word that ends or empties something is meant, `quiet` which value
//! answers the question that was asked; `attach` finds the cheapest way to give every value a field, `fit` saying what
//! can go where; `settle` converts and applies [`limits`]; `finish` puts the parts together.

mod attach;
mod element;
mod elements;
mod finish;
mod fit;
mod fit_label;
mod gather;
mod grave;
mod items;
mod lex;
pub mod limits;
mod parse;
mod phrases;
mod place;
mod print;
mod quiet;
mod read;
mod reading;
mod roles;
mod sentence;
mod settle;
mod settle_set;
mod spoken;
mod values;

pub use parse::MOST_CHARACTERS;
pub use print::{print, print_short};
pub use read::read;
pub use reading::{Fact, FactValue, Guess, NearMiss, PumpFact, Reading, Span, TestFact, Trouble, TroubleCode};
