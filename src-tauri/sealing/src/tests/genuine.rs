use p256::ecdsa::{
    DerSignature, Signature, SigningKey,
    signature::{Signer as _, Verifier as _},
};

use crate::genuine::{genuine, genuine_fixed};

/// The key and two of the signatures of RFC 6979, appendix A.2.5 (P-256, SHA-256), from memory; that one library makes
/// these very bytes and another accepts them is what shows that they were remembered well.
const KEY: &str = "C9AFA9D845BA75166B5C215767B1D6934E50C3DB36E89B127B8A622B120F6721";
const SIGNED: [(&str, &str); 2] = [
    (
        "sample",
        "EFD48B2AACB6A8FD1140DD9CD45E81D69D2C877B56AAF991C34D0EA84EAF3716\
         F7CB1C942D657C41D436C7A1B6E29F65F3E900DBB9AFF4064DC4AB2F843ACDA8",
    ),
    (
        "test",
        "F1ABB023518351CD71D881567B1EA663ED3EFCF6C5132B354F28D3B0B7D38367\
         019F4113742A2B14BD25926B49C649155F267E60D3814B4C0CC84250E46F0083",
    ),
];

fn key() -> SigningKey {
    SigningKey::from_slice(&base16ct::upper::decode_vec(KEY).unwrap()).unwrap()
}

#[test]
fn signatures_are_those_of_the_standard() {
    for (message, expected) in SIGNED {
        let expected = base16ct::upper::decode_vec(expected).unwrap();
        let made: Signature = key().sign(message.as_bytes());
        assert_eq!(made.to_bytes().as_slice(), expected, "{message}");
        assert!(genuine_fixed(key().verifying_key(), message.as_bytes(), &expected));
        assert!(!genuine_fixed(key().verifying_key(), b"other", &expected));
    }
}

#[test]
fn both_libraries_agree_on_every_changed_byte() {
    let key = key();
    let made: Signature = key.sign(b"sample");
    let (fixed, der) = (made.to_bytes().to_vec(), made.to_der().as_bytes().to_vec());
    let agree = |fixed: &[u8], der: &[u8]| {
        let by_fixed = Signature::from_slice(fixed)
            .is_ok_and(|made| key.verifying_key().verify(b"sample", &made).is_ok());
        let by_der = DerSignature::try_from(der)
            .is_ok_and(|made| key.verifying_key().verify(b"sample", &made).is_ok());
        assert_eq!(genuine_fixed(key.verifying_key(), b"sample", fixed), by_fixed, "{fixed:02x?}");
        assert_eq!(genuine(key.verifying_key(), b"sample", der), by_der, "{der:02x?}");
        by_fixed && by_der
    };
    assert!(agree(&fixed, &der));
    // Whoever has a signature can turn its second half round; curves that forbid it are others.
    let turned = Signature::from_scalars(made.r(), -made.s()).unwrap();
    assert!(agree(&turned.to_bytes(), turned.to_der().as_bytes()));
    for bit in [0x01, 0x80, 0xff] {
        for place in 0..der.len() {
            let (mut fixed, mut der) = (fixed.clone(), der.clone());
            der[place] ^= bit;
            let at = place % fixed.len();
            fixed[at] ^= bit;
            assert!(!agree(&fixed, &der));
        }
    }
    for length in 0..der.len() {
        assert!(!agree(&fixed[..length.min(63)], &der[..length]));
    }
    assert!(!agree(&[&fixed[..], &[0]].concat(), &[&der[..], &[0]].concat()));
    assert!(!agree(&[0; 64], &[]));
}
