//! Passwords and keys: what is kept of them can check them and not give them back.

use std::sync::LazyLock;

use argon2::Argon2;
use argon2::password_hash::phc::PasswordHash;
use argon2::password_hash::{PasswordHasher, PasswordVerifier};
use sha2::{Digest, Sha256};

/// Shorter ones are guessed (NIST SP 800-63B, 3.1.1.2: eight at the least beside a second factor, more without).
pub const LENGTH_LEAST: usize = 12;

/// Longer ones only cost time to hash.
const LENGTH_MOST: usize = 256;

#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum PasswordError {
    #[error("the password has fewer than {LENGTH_LEAST} characters; choose a longer one")]
    Short,
    #[error("the password has more than {LENGTH_MOST} characters; choose a shorter one")]
    Long,
    #[error("the system gives no random numbers; try again")]
    NoRandom,
}

/// The argon2id hash of a password, in PHC form, with a salt of its own.
pub fn hash(password: &str) -> Result<String, PasswordError> {
    match password.chars().count() {
        count if count < LENGTH_LEAST => Err(PasswordError::Short),
        count if count > LENGTH_MOST => Err(PasswordError::Long),
        _ => {
            let hash = Argon2::default().hash_password(password.as_bytes());
            hash.map(|hash| hash.to_string()).map_err(|_| PasswordError::NoRandom)
        }
    }
}

/// Whether a password is the one of a hash. Without a hash as much time is spent, so that the time does not tell
/// which names there are.
pub fn verify(password: &str, hash: Option<&str>) -> bool {
    static NOBODYS: LazyLock<String> = LazyLock::new(|| self::hash("nobody has this one").unwrap_or_default());
    let is_long = password.chars().count() > LENGTH_MOST;
    let Ok(parsed) = PasswordHash::new(hash.unwrap_or(&NOBODYS)) else { return false };
    let password = if is_long { "" } else { password };
    Argon2::default().verify_password(password.as_bytes(), &parsed).is_ok() && hash.is_some() && !is_long
}

/// A key of 256 random bits, in hexadecimal.
pub fn new_key() -> Result<String, PasswordError> {
    let mut bytes = [0_u8; 32];
    getrandom::fill(&mut bytes).map_err(|_| PasswordError::NoRandom)?;
    Ok(bytes.iter().map(|byte| format!("{byte:02x}")).collect())
}

/// What is kept of a key: it has too many bits to be guessed, so that a plain hash is enough.
pub fn key_hash(key: &str) -> Vec<u8> {
    Sha256::digest(key.as_bytes()).to_vec()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_password_is_known_again_and_no_other_is() {
        let hash = hash("furrow and hose 12").unwrap();
        assert!(hash.starts_with("$argon2id$v=19$"), "{hash}");
        assert!(verify("furrow and hose 12", Some(&hash)));
        assert!(!verify("furrow and hose 13", Some(&hash)));
        assert!(!verify("nobody has this one", None));
        assert_eq!(super::hash("short"), Err(PasswordError::Short));
        assert_eq!(super::hash(&"x".repeat(257)), Err(PasswordError::Long));
    }

    #[test]
    fn keys_differ_and_are_kept_as_their_sha_256() {
        assert_ne!(new_key().unwrap(), new_key().unwrap());
        // FIPS 180-2, appendix B.1.
        let hex: String = key_hash("abc").iter().map(|byte| format!("{byte:02x}")).collect();
        assert_eq!(hex, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }
}
