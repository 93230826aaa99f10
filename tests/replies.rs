//! The sentences of a language folder: what is said, and everything in a file that would go wrong unseen.

use noonwater::language::{Kind, Length, Replies, ReplyTrouble, ReplyValue as Value, Required};

const ENGLISH: &str = "
-safety = Unplug first
verdict = { $verdict ->
        [enough] Enough: { $water_m3 } m3 a day in { $month }. { -safety }.
       *[short] Not enough: { $water_m3 } m3 a day in { $month }.
    }
    .tiny = { $water_m3 } m3 a day
    .short = { $water_m3 } m3 a day, { $month }
beds = { $beds ->
        [0] no bed
        [one] { $beds_text } bed
       *[other] { $beds_text } beds
    }
";

fn english() -> Replies {
    Replies::load("en", ENGLISH).unwrap()
}

const VERDICT: Required<'static> = Required {
    key: "verdict",
    values: &[("verdict", Kind::Code(&["enough", "short"])), ("water_m3", Kind::Text), ("month", Kind::Text)],
};
const BEDS: Required<'static> = Required { key: "beds", values: &[("beds", Kind::Count), ("beds_text", Kind::Text)] };

fn verdict<'a>(code: &'a str) -> [(&'a str, Value<'a>); 3] {
    [("verdict", code.into()), ("water_m3", "9.2".into()), ("month", "July".into())]
}

#[test]
fn wordings_go_from_long_to_short_without_marks_around_values() {
    let replies = english();
    assert_eq!(
        replies.wordings("verdict", &verdict("enough")).unwrap(),
        ["Enough: 9.2 m3 a day in July. Unplug first.", "9.2 m3 a day, July", "9.2 m3 a day"]
    );
    assert_eq!(replies.format("verdict", Length::Long, &verdict("short")).unwrap(), "Not enough: 9.2 m3 a day in July.");
    let keys: Vec<(&str, Vec<Length>)> = replies.keys().map(|(key, lengths)| (key, lengths.collect())).collect();
    assert_eq!(keys, [("beds", vec![Length::Long]), ("verdict", vec![Length::Long, Length::Short, Length::Tiny])]);
    assert_eq!(replies.check(&[VERDICT, BEDS]), []);
}

/// Cardinal rules of Unicode CLDR: English one is 1; French one is 0 and 1; Swahili one is 1; Polish few is 2-4 but for
/// the teens; Arabic has six.
#[test]
fn plurals_follow_the_language() {
    let source = "
beds = { $beds ->
    [zero] zero
    [one] one
    [two] two
    [few] few
    [many] many
   *[other] other
}";
    for (code, categories) in [
        ("en", [(0, "other"), (1, "one"), (2, "other")].as_slice()),
        ("fr", &[(0, "one"), (1, "one"), (2, "other")]),
        ("sw", &[(0, "other"), (1, "one"), (2, "other")]),
        ("pl", &[(1, "one"), (3, "few"), (5, "many"), (13, "many"), (23, "few")]),
        ("ar", &[(0, "zero"), (1, "one"), (2, "two"), (3, "few"), (11, "many"), (100, "other")]),
    ] {
        let replies = Replies::load(code, source).unwrap();
        for (count, category) in categories {
            let text = replies.format("beds", Length::Long, &[("beds", Value::Count(*count))]).unwrap();
            assert_eq!(&text, category, "{code} {count}");
        }
    }
    let text = |count: u32| {
        let values = [("beds", count.into()), ("beds_text", format!("{count}.0").into())];
        english().format("beds", Length::Long, &values).unwrap()
    };
    assert_eq!([text(0), text(1), text(2)], ["no bed", "1.0 bed", "2.0 beds"]);
    let values = [("beds", Value::Count(u32::MAX)), ("beds_text", "many".into())];
    assert_eq!(english().format("beds", Length::Long, &values).unwrap(), "many beds");
}

#[test]
fn nothing_that_is_asked_for_may_be_missing() {
    let replies = english();
    let key = || "verdict".to_string();
    assert_eq!(replies.format("nonsense", Length::Long, &[]), Err(ReplyTrouble::MissingKey { key: "nonsense".into() }));
    assert_eq!(replies.wordings("nonsense", &[]), Err(ReplyTrouble::MissingKey { key: "nonsense".into() }));
    assert_eq!(
        replies.format("beds", Length::Tiny, &[]),
        Err(ReplyTrouble::MissingLength { key: "beds".into(), length: Length::Tiny })
    );
    assert_eq!(
        replies.format("verdict", Length::Long, &verdict("enough")[..2]),
        Err(ReplyTrouble::MissingValue { key: key(), value: "month".into() })
    );
    // The tiny wording does without the month.
    assert_eq!(replies.format("verdict", Length::Tiny, &verdict("enough")[..2]).unwrap(), "9.2 m3 a day");
    assert_eq!(
        replies.format("verdict", Length::Long, &verdict("shrot")),
        Err(ReplyTrouble::MissingCode { key: key(), value: "verdict".into(), code: "shrot".into() })
    );
    // Counted as a text, "1" would quietly be "1 beds"; a count for a code would quietly be the default.
    assert_eq!(
        replies.format("beds", Length::Long, &[("beds", "1".into()), ("beds_text", "1".into())]),
        Err(ReplyTrouble::NotACount { key: "beds".into(), value: "beds".into() })
    );
    let mut counted = verdict("enough");
    counted[0].1 = Value::Count(1);
    assert_eq!(
        replies.format("verdict", Length::Long, &counted),
        Err(ReplyTrouble::NotACode { key: key(), value: "verdict".into() })
    );
    let crowded = "a = ".to_string() + &"{ $x }".repeat(101);
    let crowded = Replies::load("en", &crowded).unwrap();
    assert!(matches!(crowded.format("a", Length::Long, &[("x", "7".into())]), Err(ReplyTrouble::Unresolved { .. })));
}

/// The troubles of a file, in words.
fn troubles(source: &str) -> Vec<String> {
    Replies::load("en", source).err().unwrap_or_default().iter().map(ToString::to_string).collect()
}

#[test]
fn what_is_wrong_in_a_file_is_named() {
    let syntax = troubles("a = one\nb = { $x\nc = three\n");
    assert!(syntax.len() == 1 && syntax[0].starts_with("line "), "{syntax:?}");
    assert!(troubles("a = { $x ->\n    [one] x\n}\n")[0].contains("default"));
    for (source, expected) in [
        ("a = one\na = two", "a is there twice; keep one"),
        // Fluent keeps messages and terms in one list.
        ("a = one\n-a = two", "a is there twice; keep one"),
        ("a =\n    .short = one", "a has no text; write its full wording after the ="),
        ("a = one\n    .shrot = o", "a has the attribute .shrot; only .short and .tiny are read, each once"),
        ("a = one\n    .tiny = o\n    .tiny = p", "a has the attribute .tiny; only .short and .tiny are read, each once"),
        ("a = { NUMBER($x) }", "a calls NUMBER(); replies call none, numbers come already written"),
        ("a = { NUMBER($x) ->\n   *[other] x\n }", "a calls NUMBER(); replies call none, numbers come already written"),
        ("a = { b }", "a refers to b, which is not there; add it or name another"),
        ("a = { b.tiny }\nb = b", "a refers to b.tiny, which is not there; add it or name another"),
        ("a = { -b }", "a refers to -b, which is not there; add it or name another"),
        ("a = { $x ->\n    [p] { -b }\n   *[q] q\n }", "a refers to -b, which is not there; add it or name another"),
        ("a = { a }", "a refers to itself; end the circle"),
        ("-b = { $x }\na = { -b }", "-b asks for $x; terms are given no values, move it into the message"),
        (
            "a = { $x ->\n    [p] p\n   *[q] q\n }{ $x ->\n    [1] p\n   *[other] q\n }",
            "a chooses by $x both as a number and as a code; keep one",
        ),
    ] {
        assert_eq!(troubles(source), [expected], "{source}");
    }
    let circle = ["a refers to itself; end the circle", "b refers to itself; end the circle"];
    assert_eq!(troubles("a = { b }\nb = { a }\nc = { a }"), circle);
    let no_language = Replies::load("not a code", ENGLISH).unwrap_err();
    assert_eq!(no_language, [ReplyTrouble::NoLanguage { code: "not a code".into() }]);
}

#[test]
fn a_folder_is_checked_against_what_the_program_says() {
    let check = |source: &str, required: &[Required<'_>]| {
        let replies = Replies::load("en", source).unwrap();
        replies.check(required).iter().map(ToString::to_string).collect::<Vec<_>>()
    };
    assert_eq!(check(ENGLISH, &[BEDS]), ["verdict is used nowhere; take it out or correct its name"]);
    assert_eq!(check("", &[BEDS]), ["beds is missing; add it"]);

    let a = |values| [Required { key: "a", values }];
    let code = a(&[("x", Kind::Code(&["enough", "short"]))]);
    let count = a(&[("x", Kind::Count)]);
    let text = a(&[("x", Kind::Text)]);
    let none = a(&[]);
    for (source, required, expected) in [
        ("a = { $x }\n    .tiny = { $x }", &none, "a asks for $x, which it is not given; take it out or correct its name"),
        ("a = one", &text, "a is given $x and never shows it; add it"),
        ("a = { $x ->\n    [one] p\n   *[other] q\n }", &text, "a chooses a plural by $x, which is no count"),
        ("a = { $x ->\n    [1] p\n   *[other] q\n }", &code, "a chooses a plural by $x, which is no count"),
        ("a = { $x ->\n    [enough] p\n   *[short] q\n }", &text, "a chooses its words by $x, which is no code"),
        ("a = { $x ->\n    [enough] p\n   *[other] q\n }", &count, "a chooses its words by $x, which is no code"),
        (
            "a = { $x ->\n    [enough] p\n    [short] q\n   *[shrot] r\n }",
            &code,
            "a has words for the code shrot, which $x never is; take it out or correct its name",
        ),
        ("a = { $x ->\n   *[enough] q\n }", &code, "a has no words for the code short of $x; add [short]"),
        (
            "a = { $x ->\n    [enough] p\n   *[short] { \"\" }\n }",
            &code,
            "the Long wording of a comes out blank; write something in every branch",
        ),
        (
            "a = p { $x }\n    .tiny = { $x ->\n    [0] { \" \" }\n   *[other] q\n }",
            &count,
            "the Tiny wording of a comes out blank; write something in every branch",
        ),
    ] {
        assert_eq!(check(source, required), [expected], "{source}");
    }
    // A value that one wording shows may be missing from the others, and `other` stands for every code not named.
    assert_eq!(check("a = { $x }\n    .tiny = t", &text), [""; 0]);
    assert_eq!(check("a = { $x ->\n    [enough] p\n   *[other] q\n }", &code), [""; 0]);
}

#[test]
fn replies_are_shared_between_threads() {
    fn shared<T: Send + Sync>(_: &T) {}
    shared(&english());
}
