use serde::{
    Serialize,
    de::{DeserializeOwned, DeserializeSeed, Error, MapAccess, SeqAccess, Visitor},
};
use serde_json::{Map, Number, Value};

use crate::EvidenceError;

/// The largest whole number that every JSON reader keeps exactly: 2^53 - 1.
const LARGEST: u64 = (1 << 53) - 1;

/// The value as canonical JSON (RFC 8785): keys sorted by UTF-16 code units, no white space,
/// ECMAScript numbers, UTF-8.
///
/// # Errors
/// When a whole number is beyond 2^53 - 1, or the value cannot be JSON at all.
pub fn canonical<T: Serialize + ?Sized>(value: &T) -> Result<Vec<u8>, EvidenceError> {
    let value = serde_json::to_value(value).map_err(EvidenceError::Write)?;
    numbers_fit(&value)?;
    serde_json_canonicalizer::to_vec(&value).map_err(EvidenceError::Write)
}

/// Reads canonical bytes. The bytes must be the one canonical form of what they say, so that no two
/// different files ever mean the same thing.
///
/// # Errors
/// When the bytes are not JSON, have a key twice, are not canonical, or do not have the fields of `T`.
pub fn read_strictly<T: DeserializeOwned>(bytes: &[u8], what: &str) -> Result<T, EvidenceError> {
    let value = value_once(bytes)?;
    if canonical(&value)? != bytes {
        return Err(EvidenceError::NotCanonical);
    }
    serde_json::from_value(value).map_err(|source| EvidenceError::Shape { what: what.to_owned(), source })
}

/// Reads JSON in which every key stands once in its object.
pub(crate) fn value_once(bytes: &[u8]) -> Result<Value, EvidenceError> {
    let mut reader = serde_json::Deserializer::from_slice(bytes);
    let value = Once.deserialize(&mut reader).map_err(EvidenceError::Read)?;
    reader.end().map_err(EvidenceError::Read)?;
    Ok(value)
}

fn numbers_fit(value: &Value) -> Result<(), EvidenceError> {
    match value {
        Value::Number(number) => {
            let whole = number.as_u64().or_else(|| number.as_i64().map(i64::unsigned_abs));
            match whole {
                Some(size) if size > LARGEST => Err(EvidenceError::NumberTooLarge(number.to_string())),
                Some(_) | None => Ok(()),
            }
        }
        Value::Array(items) => items.iter().try_for_each(numbers_fit),
        Value::Object(fields) => fields.values().try_for_each(numbers_fit),
        Value::Null | Value::Bool(_) | Value::String(_) => Ok(()),
    }
}

/// Builds a value as `serde_json` does, but refuses a key that stands twice; `serde_json` would keep the
/// last and drop the first without a word.
struct Once;

impl<'de> DeserializeSeed<'de> for Once {
    type Value = Value;

    fn deserialize<D: serde::Deserializer<'de>>(self, deserializer: D) -> Result<Value, D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Once {
    type Value = Value;

    fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("JSON")
    }

    fn visit_unit<E>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_bool<E>(self, value: bool) -> Result<Value, E> {
        Ok(Value::Bool(value))
    }

    fn visit_i64<E>(self, value: i64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_u64<E>(self, value: u64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_f64<E: Error>(self, value: f64) -> Result<Value, E> {
        Number::from_f64(value).map(Value::Number).ok_or_else(|| E::custom("a number must be finite"))
    }

    fn visit_str<E>(self, value: &str) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<Value, A::Error> {
        let mut items = Vec::new();
        while let Some(item) = seq.next_element_seed(Once)? {
            items.push(item);
        }
        Ok(items.into())
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Value, A::Error> {
        let mut fields = Map::new();
        while let Some(key) = map.next_key::<String>()? {
            let value = map.next_value_seed(Once)?;
            if fields.contains_key(&key) {
                return Err(A::Error::custom(format_args!("the key {key} stands twice")));
            }
            fields.insert(key, value);
        }
        Ok(fields.into())
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::digest;

    #[test]
    fn rfc_8785_sample() {
        // RFC 8785 section 3.2.2 gives the object; its canonical form and digest were recomputed in Node.
        let text = r#"{
            "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
            "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
            "literals": [null, true, false]
        }"#;
        let bytes = canonical(&value_once(text.as_bytes()).unwrap()).unwrap();
        let expected = concat!(
            r#"{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"#,
            r#""string":"€$\u000f\nA'B\"\\\\\"/"}"#
        );
        assert_eq!(String::from_utf8(bytes.clone()).unwrap(), expected);
        let hash = "2d5e01a318d0f0879ab568c4be289c8b1f64ef8921a53c6277d5e069978baacb";
        assert_eq!(digest(&bytes).to_string(), hash);
    }

    #[test]
    fn keys_sort_by_utf_16_code_units() {
        // RFC 8785 section 3.2.3: a sort by UTF-8 bytes gets the last two wrong.
        let text = r#"{"\u20ac":5,"\r":1,"\ufb33":7,"1":2,"\ud83d\ude00":6,"\u0080":3,"\u00f6":4}"#;
        let bytes = canonical(&value_once(text.as_bytes()).unwrap()).unwrap();
        let written = String::from_utf8(bytes).unwrap();
        let order: Vec<char> = written.chars().filter(char::is_ascii_digit).collect();
        // The key "1" is itself a digit and stands before its value 2.
        assert_eq!(order, ['1', '1', '2', '3', '4', '5', '6', '7']);
    }

    #[track_caller]
    fn refused(text: &str) -> String {
        read_strictly::<Value>(text.as_bytes(), "test").expect_err("must be refused").to_string()
    }

    #[test]
    fn what_is_refused() {
        assert!(refused(r#"{"a":1,"a":2}"#).contains("every key stands once"));
        assert!(refused(r#"{"a":{"b":1,"b":1}}"#).contains("every key stands once"));
        assert!(refused(r#"{"a":1} {}"#).contains("every key stands once"));
        assert!(refused(r#"{"a":NaN}"#).contains("every key stands once"));
        assert!(refused(r#"{"b":1,"a":2}"#).contains("canonical"));
        assert!(refused(r#"{"a": 1}"#).contains("canonical"));
        assert!(refused(r#"{"a":1.0}"#).contains("canonical"));
        assert!(refused(r#"{"a":9007199254740992}"#).contains("too large"));
        assert!(refused(r#"{"a":-9007199254740992}"#).contains("too large"));
    }

    #[test]
    fn the_largest_whole_number_is_kept() {
        let text = br#"{"a":9007199254740991,"b":-9007199254740991}"#;
        let value: Value = read_strictly(text, "test").unwrap();
        assert_eq!(canonical(&value).unwrap(), text);
    }

    fn json() -> impl Strategy<Value = Value> {
        let leaf = prop_oneof![
            Just(Value::Null),
            any::<bool>().prop_map(Value::Bool),
            (-(1_i64 << 53) + 1..1 << 53).prop_map(Value::from),
            any::<f64>().prop_filter_map("finite", |n| Number::from_f64(n).map(Value::Number)),
            ".{0,8}".prop_map(Value::String),
        ];
        leaf.prop_recursive(3, 24, 6, |inner| {
            prop_oneof![
                prop::collection::vec(inner.clone(), 0..6).prop_map(Value::Array),
                prop::collection::vec((".{0,4}", inner), 0..6)
                    .prop_map(|fields| Value::Object(fields.into_iter().collect())),
            ]
        })
    }

    proptest! {
        #[test]
        fn canonical_bytes_read_back_as_themselves(value in json()) {
            // Floats beyond 2^53 without a fraction read back as whole numbers, which are refused.
            let Ok(bytes) = canonical(&value) else { return Ok(()) };
            match read_strictly::<Value>(&bytes, "test") {
                Ok(back) => prop_assert_eq!(canonical(&back).unwrap(), bytes),
                Err(error) => prop_assert!(matches!(error, EvidenceError::NumberTooLarge(_)), "{}", error),
            }
        }
    }
}
