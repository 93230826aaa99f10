//! The fuzz target's check, driven by the committed corpus and by a seeded walk from it, so that every run of the suite
//! covers it without the fuzzer.

#[path = "fuzz/reading.rs"]
mod reading;

/// Changed messages tried from the corpus.
const WALK: u32 = 20_000;

/// A linear congruential generator (Knuth, MMIX constants): the same walk on every machine.
struct Chance(u64);

impl Chance {
    fn below(&mut self, count: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).unwrap() % count.max(1)
    }
}

#[test]
fn the_corpus_and_a_walk_from_it_are_read_without_fault() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/fuzz/corpus/reading");
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|file| file.unwrap().path()).collect();
    files.sort();
    let corpus: Vec<Vec<u8>> = files.iter().map(|file| std::fs::read(file).unwrap()).collect();
    assert!(corpus.len() >= 20, "{} files", corpus.len());
    corpus.iter().for_each(|bytes| reading::check(bytes));
    let mut chance = Chance(20_260_810);
    for _ in 0..WALK {
        let mut bytes = corpus[chance.below(corpus.len())].clone();
        for _ in 0..=chance.below(4) {
            let at = chance.below(bytes.len());
            match chance.below(4) {
                0 => bytes.insert(at, u8::try_from(chance.below(256)).unwrap()),
                1 if !bytes.is_empty() => drop(bytes.remove(at)),
                2 if !bytes.is_empty() => bytes[at] = b"0123456789.,-/x*lo mvw'\"\n"[chance.below(25)],
                _ => {
                    let other = &corpus[chance.below(corpus.len())];
                    let from = chance.below(other.len());
                    bytes.splice(at..at, other[from..].iter().copied());
                }
            }
        }
        reading::check(&bytes);
    }
}
