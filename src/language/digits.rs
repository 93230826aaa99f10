//! Decimal digits of every script.

/// The zero of each run of ten decimal digits outside ASCII: Unicode 14.0, general category Nd, where each run ascends
/// from nought to nine (Unicode Standard, section 4.6).
const ZEROS: [u32; 65] = [
    0x660, 0x6f0, 0x7c0, 0x966, 0x9e6, 0xa66, 0xae6, 0xb66, 0xbe6, 0xc66, 0xce6, 0xd66, 0xde6, 0xe50, 0xed0, 0xf20, 0x1040,
    0x1090, 0x17e0, 0x1810, 0x1946, 0x19d0, 0x1a80, 0x1a90, 0x1b50, 0x1bb0, 0x1c40, 0x1c50, 0xa620, 0xa8d0, 0xa900, 0xa9d0,
    0xa9f0, 0xaa50, 0xabf0, 0xff10, 0x104a0, 0x10d30, 0x11066, 0x110f0, 0x11136, 0x111d0, 0x112f0, 0x11450, 0x114d0,
    0x11650, 0x116c0, 0x11730, 0x118e0, 0x11950, 0x11c50, 0x11d50, 0x11da0, 0x16a60, 0x16ac0, 0x16b50, 0x1d7ce, 0x1d7d8,
    0x1d7e2, 0x1d7ec, 0x1d7f6, 0x1e140, 0x1e2f0, 0x1e950, 0x1fbf0,
];

/// The ASCII digit that a decimal digit of any script stands for.
pub fn ascii_digit(letter: char) -> Option<char> {
    if letter.is_ascii_digit() {
        return Some(letter);
    }
    let code = u32::from(letter);
    let after = ZEROS.partition_point(|&zero| zero <= code);
    let value = code - ZEROS.get(after.checked_sub(1)?)?;
    char::from_digit(value, 10)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_run_of_digits_reads_from_nought_to_nine() {
        assert!(ZEROS.is_sorted());
        for zero in ZEROS {
            for value in 0..10 {
                let letter = char::from_u32(zero + value).unwrap();
                // The standard library's own Unicode tables are the outside witness.
                assert!(letter.is_numeric(), "{letter:?}");
                assert_eq!(ascii_digit(letter), char::from_digit(value, 10), "{letter:?}");
            }
        }
    }

    #[test]
    fn what_is_no_decimal_digit_is_none() {
        for letter in ['a', '½', '²', '五', 'Ⅷ', '\u{65f}', '\u{66a}'] {
            assert_eq!(ascii_digit(letter), None, "{letter:?}");
        }
    }
}
