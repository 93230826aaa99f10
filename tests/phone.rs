//! A reply on the phone: the network's alphabet, where texts are cut, and what is left out when room is short.

use std::collections::BTreeMap;

use noonwater::reply::alphabet::{GsmCode, replace_letters};
use noonwater::reply::{Encoding, FitTrouble, Joint, PhoneText, Room, Wordings, fit};
use proptest::prelude::*;

/// The rows of a reference file, without its head.
fn rows(file: &'static str) -> impl Iterator<Item = Vec<&'static str>> {
    file.lines().filter(|line| !line.starts_with('#')).skip(1).map(|line| line.split(',').collect())
}

/// Every character of the Basic Multilingual Plane against the codec of PyPI gsm0338 (`reference/gsm_alphabet.py`).
/// That codec takes U+001B for a character; 3GPP TS 23.038 6.2.1 does not, and we follow it.
#[test]
fn alphabet_is_the_codecs() {
    let codec: BTreeMap<char, (usize, u16)> = rows(include_str!("reference/gsm-alphabet.csv"))
        .map(|row| {
            let c = char::from_u32(u32::from_str_radix(row[0], 16).unwrap()).unwrap();
            (c, (row[1].parse().unwrap(), u16::from_str_radix(row[2], 16).unwrap()))
        })
        .collect();
    // TS 23.038: 128 places but the escape, and ten in the extension table.
    assert_eq!(codec.len(), 127 + 10);
    for c in (0..=0xFFFF).filter_map(char::from_u32) {
        let ours = GsmCode::of(c).map(|code| match code {
            GsmCode::Plain(septet) => (code.septets(), u16::from(septet)),
            GsmCode::Escaped(septet) => (code.septets(), 0x1B00 | u16::from(septet)),
        });
        assert_eq!(ours, codec.get(&c).copied(), "U+{:04X}", c as u32);
    }
    assert_eq!(GsmCode::of('\u{1B}'), None);
    assert!((0x1_0000..=0x10_FFFF).filter_map(char::from_u32).all(|c| GsmCode::of(c).is_none()));
}

/// Counts and cuts of npm split-sms, with which npm sms-segments-calculator agrees (`reference/parts.mjs`).
#[test]
fn parts_are_the_counters() {
    let mut texts = 0;
    for row in rows(include_str!("reference/parts.csv")) {
        let text: String = row[0]
            .split_whitespace()
            .flat_map(|run| {
                let (point, times) = run.split_once('*').unwrap();
                let c = char::from_u32(u32::from_str_radix(point, 16).unwrap()).unwrap();
                std::iter::repeat_n(c, times.parse().unwrap())
            })
            .collect();
        let encoding = if row[1] == "gsm7" { Encoding::Gsm7 } else { Encoding::Ucs2 };
        let cuts: Vec<usize> = row[2].split(' ').map(|units| units.parse().unwrap()).collect();
        let phone = PhoneText::new(&text);
        assert_eq!(phone.encoding, encoding, "{}", row[0]);
        assert_eq!((phone.units, phone.parts), (cuts.iter().sum(), cuts.len()), "{}", row[0]);
        let ours: Vec<usize> = phone.parts().iter().map(|part| units(part, encoding)).collect();
        assert_eq!(ours, cuts, "{}", row[0]);
        assert_eq!(phone.parts().concat(), text);
        texts += 1;
    }
    assert!(texts > 400, "{texts} texts in the reference file");
}

fn units(text: &str, encoding: Encoding) -> usize {
    text.chars().map(|c| encoding.units_of(c).unwrap()).sum()
}

/// 3GPP TS 23.040 9.2.3.24.1: 140 octets are 160 septets or 70 code units; 134 beside a header, 153 or 67.
#[test]
fn parts_follow_the_octets() {
    for (septets, parts) in [(0, 1), (160, 1), (161, 2), (306, 2), (307, 3), (459, 3), (460, 4)] {
        let phone = PhoneText::new("a".repeat(septets));
        assert_eq!((phone.encoding, phone.units, phone.parts), (Encoding::Gsm7, septets, parts));
    }
    for (code_units, parts) in [(70, 1), (71, 2), (134, 2), (135, 3), (201, 3), (202, 4)] {
        let phone = PhoneText::new("ç".repeat(code_units));
        assert_eq!((phone.encoding, phone.units, phone.parts), (Encoding::Ucs2, code_units, parts));
    }
}

/// Counted by hand on the tables of 3GPP TS 23.038.
#[test]
fn septets_of_known_texts() {
    for (text, septets) in [("€5", 3), ("[est]", 7), ("{}[]~\\|^€", 18), ("été à Québec", 12), ("Ç", 1), ("\u{C}", 2)]
    {
        let phone = PhoneText::new(text);
        assert_eq!((phone.encoding, phone.units), (Encoding::Gsm7, septets), "{text}");
    }
    for letter in "çúáíóâêôãõ\u{1B}\t\u{A0}\u{202F}’²×".chars() {
        assert_eq!(PhoneText::new(format!("a{letter}")).encoding, Encoding::Ucs2, "{letter:?}");
    }
}

/// 3GPP TS 29.002: a USSD string is at most 160 octets; 3GPP TS 23.038 6.1.2.3 packs eight septets into seven.
#[test]
fn a_screen_is_160_octets() {
    for (text, octets, fits) in [
        ("a".repeat(182), 160, true),
        ("a".repeat(183), 161, false),
        ("€".repeat(91), 160, true),
        ("ç".repeat(80), 160, true),
        ("ç".repeat(81), 162, false),
        (String::new(), 0, true),
        // "hellohello" packs into E8329BFD4697D9EC37, the usual test vector of the packing.
        ("hellohello".into(), "E8329BFD4697D9EC37".len() / 2, true),
    ] {
        let phone = PhoneText::new(text);
        assert_eq!((phone.octets(), phone.fits_screen()), (octets, fits), "{}", phone.text);
    }
}

#[test]
fn letters_are_replaced_only_where_that_helps() {
    let table: BTreeMap<char, String> =
        [('ç', "c"), ('ê', "e"), ('é', "e"), ('œ', "oe"), ('’', "'")].map(|(c, s)| (c, s.into())).into();
    // The alphabet has é and à, so they stay although the table names one.
    assert_eq!(replace_letters("forêt, ça, l’été, cœur", &table), "foret, ca, l'été, coeur");
    assert_eq!(replace_letters("l'été", &table), "l'été");
    // Loose accents: e + U+0301 is é, c + U+0327 is ç.
    assert_eq!(replace_letters("e\u{301}te\u{301} c\u{327}a", &table), "été ca");
    // The text stays UCS-2 for the sake of ж, so nothing is gained by writing it worse.
    assert_eq!(replace_letters("ça ж", &table), "ça ж");
    assert_eq!(replace_letters("ça", &BTreeMap::new()), "ça");
}

fn piece(rank: u8, must: bool, texts: &[&str]) -> Wordings {
    Wordings { rank, must, texts: texts.iter().map(|&text| text.into()).collect(), joint: Joint::Space }
}

fn filler(words: usize) -> String {
    vec!["water"; words].join(" ")
}

#[test]
fn a_reply_with_room_says_everything_in_full() {
    let mut pieces = [
        piece(3, false, &["Lift 5 m, pipe 40 m.", "5 m, 40 m."]),
        piece(0, true, &["Enough: 9 m3 a day in July.", "Enough: 9 m3."]),
        piece(1, true, &["Unplug before you touch the pump.", "Unplug first."]),
    ];
    assert_eq!(
        fit(&pieces, Room::Parts(1)).unwrap().text,
        "Lift 5 m, pipe 40 m. Enough: 9 m3 a day in July. Unplug before you touch the pump."
    );
    pieces[1].joint = Joint::Line;
    pieces[2].joint = Joint::Close;
    let first_left_out = fit(&[piece(0, false, &[]), pieces[1].clone(), pieces[2].clone()], Room::Screen).unwrap();
    assert_eq!(first_left_out.text, "Enough: 9 m3 a day in July.Unplug before you touch the pump.");
}

#[test]
fn a_piece_that_is_too_long_makes_way_for_a_lesser_one_that_fits() {
    let long = filler(20);
    let pieces = [piece(0, true, &[&filler(15)]), piece(1, false, &[&long]), piece(2, false, &["Next: cost"])];
    assert_eq!(fit(&pieces, Room::Parts(1)).unwrap().text, format!("{} Next: cost", filler(15)));
}

#[test]
fn saying_more_comes_before_saying_it_fully_and_rank_before_place() {
    let full = "b".repeat(100);
    let pieces = [
        piece(2, false, &[&"a".repeat(100), "aa"]),
        piece(1, false, &[&full, "bb"]),
        piece(1, false, &[&"c".repeat(100), "cc"]),
    ];
    // One of the three can be said fully: the first of the highest rank; the others stay, in their places.
    assert_eq!(fit(&pieces, Room::Parts(1)).unwrap().text, format!("aa {full} cc"));
}

/// One letter outside the alphabet leaves 70 characters: the piece that carries it is left out, not the rest.
#[test]
fn a_letter_that_costs_the_alphabet_counts_on_the_whole_text() {
    let said = filler(20);
    let pieces = [piece(0, true, &[&said]), piece(1, false, &["ça va"]), piece(2, false, &["Next: cost"])];
    let reply = fit(&pieces, Room::Parts(1)).unwrap();
    assert_eq!((reply.text, reply.encoding), (format!("{said} Next: cost"), Encoding::Gsm7));
    // The last wording is the shorter one to read, the first the shorter one to send.
    let pieces = [piece(0, true, &["ok, it is enough", "ça va, assez"]), piece(1, true, &[&filler(18)])];
    assert_eq!(fit(&pieces, Room::Parts(1)).unwrap().encoding, Encoding::Gsm7);
}

#[test]
fn what_must_be_said_takes_a_second_part_and_no_third() {
    let (verdict, more) = (filler(31), filler(20));
    let pieces = [piece(0, true, &[&verdict]), piece(9, false, &[&more])];
    assert_eq!(fit(&pieces, Room::Parts(1)).unwrap().parts, 2);
    // A part that is paid for is used.
    assert_eq!(fit(&pieces, Room::Parts(1)).unwrap().text, format!("{verdict} {more}"));
    assert!(matches!(fit(&pieces, Room::Screen), Err(FitTrouble::TooLong { .. })));
    let too_long = filler(52);
    assert_eq!(
        fit(&[piece(0, true, &[&too_long])], Room::Parts(1)),
        Err(FitTrouble::TooLong { shortest: PhoneText::new(&too_long) })
    );
    assert_eq!(fit(&[piece(0, true, &[&too_long])], Room::Parts(3)).unwrap().parts, 3);
    assert_eq!(fit(&[piece(0, false, &["x"]), piece(0, true, &[])], Room::Screen), Err(FitTrouble::NoWording { piece: 1 }));
}

/// Pieces whose words start with their own letter, so that a reply can be read back. Wordings shorten.
fn any_pieces() -> impl Strategy<Value = Vec<Wordings>> {
    let text = ("[a-z é\n€ç🌱]{0,30}|[a-z é€]{0,120}", 0..40_usize, 0..40_usize);
    let one = (0..6_u8, prop::bool::weighted(0.25), text, 0..3_usize);
    prop::collection::vec(one, 0..8).prop_map(|pieces| {
        let each = pieces.into_iter().enumerate().map(|(place, (rank, must, (text, cut, cut_more), joint))| {
            let mark = char::from(b'A' + place as u8);
            let take = |n: usize| format!("{mark}{}", text.chars().take(n).collect::<String>());
            let length = text.chars().count();
            let shorter = length.saturating_sub(cut);
            let texts = vec![take(length), take(shorter), take(shorter.saturating_sub(cut_more))];
            Wordings { rank, must, texts, joint: [Joint::Space, Joint::Line, Joint::Close][joint] }
        });
        each.collect()
    })
}

fn any_room() -> impl Strategy<Value = Room> {
    prop_oneof![(1..4_usize).prop_map(Room::Parts), Just(Room::Screen)]
}

/// The wording of each piece in a text made of pieces from [`any_pieces`], read back by their letters.
fn read_back(pieces: &[Wordings], text: &str) -> Vec<Option<String>> {
    let starts: Vec<usize> = text.match_indices(|c: char| c.is_ascii_uppercase()).map(|(at, _)| at).collect();
    let mut said = vec![None; pieces.len()];
    for (n, &start) in starts.iter().enumerate() {
        let end = starts.get(n + 1).copied().unwrap_or(text.len());
        let place = usize::from(text.as_bytes()[start] - b'A');
        assert!(said[place + 1..].iter().all(Option::is_none), "pieces keep their order");
        let mut wording = text[start..end].to_string();
        if let Some(next) = starts.get(n + 1) {
            let joint = pieces[usize::from(text.as_bytes()[*next] - b'A')].joint;
            if joint != Joint::Close {
                assert_eq!(wording.pop(), Some(if joint == Joint::Line { '\n' } else { ' ' }));
            }
        }
        said[place] = Some(wording);
    }
    said
}

fn by_rank(pieces: &[Wordings]) -> Vec<usize> {
    let mut places: Vec<usize> = (0..pieces.len()).collect();
    places.sort_by_key(|&place| (pieces[place].rank, place));
    places
}

/// Pieces joined by hand, for comparison.
fn joined(pieces: &[Wordings], said: &[Option<&str>]) -> PhoneText {
    let mut text = String::new();
    for (piece, wording) in pieces.iter().zip(said) {
        if let Some(wording) = wording {
            if !text.is_empty() {
                text += match piece.joint {
                    Joint::Space => " ",
                    Joint::Line => "\n",
                    Joint::Close => "",
                };
            }
            text += wording;
        }
    }
    PhoneText::new(text)
}

fn shortest(piece: &Wordings) -> &str {
    piece.texts.iter().rev().min_by_key(|text| PhoneText::new(text.as_str()).octets()).unwrap()
}

proptest! {
    #[test]
    fn any_text_is_cut_without_loss(text in "(?s)[a-zé€^🌱ç\n]{0,500}|.{0,200}|[a-z€{}]{0,700}") {
        let phone = PhoneText::new(&text);
        let parts = phone.parts();
        prop_assert_eq!(parts.concat(), text);
        prop_assert_eq!(parts.len(), phone.parts);
        let limit = if parts.len() == 1 { phone.encoding.single_units() } else { phone.encoding.part_units() };
        for part in &parts {
            prop_assert!(units(part, phone.encoding) <= limit);
        }
        // No cut is early: the first character of the next part would not have fitted.
        for pair in parts.windows(2) {
            let next: String = pair[1].chars().take(1).collect();
            prop_assert!(units(pair[0], phone.encoding) + units(&next, phone.encoding) > limit);
        }
    }

    #[test]
    fn any_reply_fits_and_says_what_it_must(pieces in any_pieces(), room in any_room()) {
        let shortest_musts: Vec<Option<&str>> = pieces.iter().map(|p| p.must.then(|| shortest(p))).collect();
        let shortest_musts = joined(&pieces, &shortest_musts);
        match fit(&pieces, room) {
            Ok(reply) => {
                let may = if room.holds(&shortest_musts) { room } else { Room::Parts(shortest_musts.parts) };
                prop_assert!(may.holds(&reply) && (room != Room::Screen || room.holds(&reply)));
                prop_assert_eq!(&reply, &PhoneText::new(&reply.text));
                let said = read_back(&pieces, &reply.text);
                for (piece, said) in pieces.iter().zip(said) {
                    prop_assert!(!piece.must || said.is_some());
                    prop_assert!(said.is_none_or(|said| piece.texts.contains(&said)), "cut");
                }
            }
            Err(trouble) => {
                prop_assert!(!room.holds(&shortest_musts));
                prop_assert!(room == Room::Screen || !Room::Parts(2).holds(&shortest_musts));
                prop_assert_eq!(trouble, FitTrouble::TooLong { shortest: shortest_musts });
            }
        }
    }

    /// Against a search through every set of pieces: none that fits has a piece more at the first rank that differs.
    #[test]
    fn no_other_set_of_pieces_is_better(pieces in any_pieces(), room in any_room()) {
        let Ok(reply) = fit(&pieces, room) else { return Ok(()) };
        let ranked = by_rank(&pieces);
        let room = match room {
            Room::Parts(parts) => Room::Parts(parts.max(reply.parts)),
            Room::Screen => Room::Screen,
        };
        let best = (0..1_usize << pieces.len())
            .filter(|set| pieces.iter().enumerate().all(|(place, piece)| !piece.must || set >> place & 1 == 1))
            .filter(|set| {
                let said: Vec<Option<&str>> =
                    (0..pieces.len()).map(|place| (set >> place & 1 == 1).then(|| shortest(&pieces[place]))).collect();
                room.holds(&joined(&pieces, &said))
            })
            .map(|set| ranked.iter().map(|place| set >> place & 1).collect::<Vec<_>>())
            .max()
            .unwrap();
        let said = read_back(&pieces, &reply.text);
        let ours: Vec<usize> = ranked.iter().map(|&place| usize::from(said[place].is_some())).collect();
        prop_assert_eq!(ours, best);
    }

    /// No piece that is said could be said more fully in the room that is left.
    #[test]
    fn no_room_is_left_for_a_fuller_wording(pieces in any_pieces(), parts in 1..4_usize) {
        let Ok(reply) = fit(&pieces, Room::Parts(parts)) else { return Ok(()) };
        let room = Room::Parts(parts.max(reply.parts));
        let said = read_back(&pieces, &reply.text);
        for place in 0..pieces.len() {
            for fuller in pieces[place].texts.iter().take_while(|text| Some(*text) != said[place].as_ref()) {
                let mut trial: Vec<Option<&str>> = said.iter().map(Option::as_deref).collect();
                if trial[place].is_some() {
                    trial[place] = Some(fuller);
                    prop_assert!(!room.holds(&joined(&pieces, &trial)));
                }
            }
        }
    }

    /// With more room the set of pieces only gets better: where it first differs by rank, the roomier one says more.
    #[test]
    fn more_room_never_loses_a_piece_to_a_lesser_one(pieces in any_pieces(), parts in 1..3_usize) {
        let (Ok(narrow), Ok(wide)) = (fit(&pieces, Room::Parts(parts)), fit(&pieces, Room::Parts(parts + 1))) else {
            return Ok(());
        };
        let ranked = by_rank(&pieces);
        let says = |reply: &PhoneText| {
            let said = read_back(&pieces, &reply.text);
            ranked.iter().map(|&place| said[place].is_some()).collect::<Vec<_>>()
        };
        prop_assert!(says(&wide) >= says(&narrow));
    }

    #[test]
    fn replacing_never_makes_a_text_leave_the_alphabet(text in "[a-zéçœê🌱]{0,60}") {
        let table: BTreeMap<char, String> = [('ç', "c".into()), ('œ', "oe".into()), ('ê', "e".into())].into();
        let replaced = replace_letters(&text, &table);
        if text.contains('🌱') {
            prop_assert_eq!(replaced, text.as_str());
        } else {
            prop_assert_eq!(Encoding::of(&replaced), Encoding::Gsm7);
        }
    }
}
