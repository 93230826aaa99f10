//! Passwords and keys: what is kept of them can check them and not give them back.

use argon2::password_hash::phc::PasswordHash;
use argon2::{Algorithm, Argon2, Block, Params, Version};
use base64::Engine;
use base64::prelude::BASE64_STANDARD_NO_PAD;
use sha2::{Digest, Sha256};
use subtle::ConstantTimeEq;

use super::weak::is_weak;

/// Where a password is all that is asked for, it has 15 characters at the least (NIST SP 800-63B-4, 3.1.1.2).
pub const LENGTH_LEAST: usize = 15;

/// Longer ones only cost time to hash; the same page asks for 64 at the least to be taken.
const LENGTH_MOST: usize = 256;

/// Random octets beside each password.
const SALT: usize = 16;

/// Octets of a hash.
const HASH: usize = 32;

#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum PasswordError {
    #[error("the password has fewer than {LENGTH_LEAST} characters; choose a longer one, such as four or five words")]
    Short,
    #[error("the password has more than {LENGTH_MOST} characters; choose a shorter one")]
    Long,
    #[error("the password is among the first that are tried; choose another, such as four or five words")]
    Weak,
    #[error("the system gives no random numbers; try again")]
    NoRandom,
}

/// Whether a password may be chosen for the account of this name.
pub fn check(password: &str, name: &str) -> Result<(), PasswordError> {
    match password.chars().count() {
        count if count < LENGTH_LEAST => Err(PasswordError::Short),
        count if count > LENGTH_MOST => Err(PasswordError::Long),
        _ if is_weak(password, name) => Err(PasswordError::Weak),
        _ => Ok(()),
    }
}

/// The memory that one hash is worked out in.
pub fn blocks() -> Vec<Block> {
    vec![Block::default(); Params::DEFAULT.block_count()]
}

/// The hash of a password, for a command that works out one.
pub fn hash(password: &str) -> Result<String, PasswordError> {
    hash_in(password, &mut blocks())
}

/// The argon2id hash of a password, in PHC form, with a salt of its own.
pub fn hash_in(password: &str, blocks: &mut [Block]) -> Result<String, PasswordError> {
    let mut salt = [0_u8; SALT];
    getrandom::fill(&mut salt).map_err(|_| PasswordError::NoRandom)?;
    let mut hash = [0_u8; HASH];
    let worked = argon2id(Params::DEFAULT).hash_password_into_with_memory(password.as_bytes(), &salt, &mut hash, blocks);
    worked.map_err(|_| PasswordError::Long)?;
    let (m, t, p) = (Params::DEFAULT_M_COST, Params::DEFAULT_T_COST, Params::DEFAULT_P_COST);
    let [salt, hash] = [&salt[..], &hash[..]].map(|bytes| BASE64_STANDARD_NO_PAD.encode(bytes));
    Ok(format!("$argon2id$v=19$m={m},t={t},p={p}${salt}${hash}"))
}

fn argon2id(params: Params) -> Argon2<'static> {
    Argon2::new(Algorithm::Argon2id, Version::V0x13, params)
}

/// Nobody's password: of no use to anybody, and as long in the taking.
const NOBODYS: &str = "$argon2id$v=19$m=19456,t=2,p=1$bm9ib2R5IGhhcyB0aGlz$AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA";

/// Whether a password is the one of a hash. Without a hash as much time is spent, so that the time does not tell
/// which names there are.
pub fn verify(password: &str, hash: Option<&str>, blocks: &mut [Block]) -> bool {
    let is_long = password.chars().count() > LENGTH_MOST;
    let password = if is_long { "" } else { password };
    let Ok(parsed) = PasswordHash::new(hash.unwrap_or(NOBODYS)) else { return false };
    let (Ok(params), Some(salt), Some(kept)) = (Params::try_from(&parsed), &parsed.salt, &parsed.hash) else {
        return false;
    };
    let Some(room) = blocks.get_mut(..params.block_count()) else { return false };
    let mut ours = vec![0; kept.len()];
    let worked = argon2id(params).hash_password_into_with_memory(password.as_bytes(), salt, &mut ours, room);
    worked.is_ok() && bool::from(ours.ct_eq(kept.as_bytes())) && hash.is_some() && !is_long
}

/// A key of 256 random bits, in hexadecimal.
pub fn new_key() -> Result<String, PasswordError> {
    let mut bytes = [0_u8; 32];
    getrandom::fill(&mut bytes).map_err(|_| PasswordError::NoRandom)?;
    Ok(bytes.iter().map(|byte| format!("{byte:02x}")).collect())
}

/// Letters and digits that are not taken for each other when somebody reads them out.
const READABLE: &[u8; 32] = b"abcdefghijkmnpqrstuvwxyz23456789";

/// A password for the first sign-in: five groups of four, a hundred random bits.
pub fn first_password() -> Result<String, PasswordError> {
    let mut bytes = [0_u8; 20];
    getrandom::fill(&mut bytes).map_err(|_| PasswordError::NoRandom)?;
    let letters: Vec<char> = bytes.iter().map(|byte| char::from(READABLE[usize::from(byte % 32)])).collect();
    Ok(letters.chunks(4).map(|group| group.iter().collect::<String>()).collect::<Vec<_>>().join("-"))
}

/// What is kept of a key: it has too many bits to be guessed, so that a plain hash is enough.
pub fn key_hash(key: &str) -> Vec<u8> {
    Sha256::digest(key.as_bytes()).to_vec()
}

#[cfg(test)]
mod tests {
    use argon2::password_hash::{PasswordHasher, PasswordVerifier};

    use super::*;

    #[test]
    fn a_password_is_known_again_and_no_other_is() {
        let mut room = blocks();
        let hash = hash_in("furrow and hose 12", &mut room).unwrap();
        assert!(hash.starts_with("$argon2id$v=19$"), "{hash}");
        assert!(verify("furrow and hose 12", Some(&hash), &mut room));
        assert!(!verify("furrow and hose 13", Some(&hash), &mut room));
        assert!(!verify("nobody has this", None, &mut room));
        assert!(PasswordHash::new(NOBODYS).is_ok());
        assert_eq!(check("short", "Asha"), Err(PasswordError::Short));
        assert_eq!(check(&"x".repeat(257), "Asha"), Err(PasswordError::Long));
        assert_eq!(check("furrow and hose 12", "Asha"), Ok(()));
    }

    /// What the library does with memory of its own is the check of what is done here in ours.
    #[test]
    fn hashes_are_the_library_s_own() {
        let mut room = blocks();
        let theirs = Argon2::default().hash_password(b"furrow and hose 12").unwrap().to_string();
        assert!(verify("furrow and hose 12", Some(&theirs), &mut room));
        let ours = hash_in("furrow and hose 12", &mut room).unwrap();
        let ours = PasswordHash::new(&ours).unwrap();
        assert!(Argon2::default().verify_password(b"furrow and hose 12", &ours).is_ok());
    }

    #[test]
    fn keys_differ_and_are_kept_as_their_sha_256() {
        assert_ne!(new_key().unwrap(), new_key().unwrap());
        let first = first_password().unwrap();
        assert_eq!((first.len(), check(&first, "Asha")), (24, Ok(())));
        // FIPS 180-2, appendix B.1.
        let hex: String = key_hash("abc").iter().map(|byte| format!("{byte:02x}")).collect();
        assert_eq!(hex, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }
}
