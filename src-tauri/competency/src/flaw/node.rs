//! Reads a value out of the places, for serde: the wrong type is told in plain words and with its place.

use std::collections::BTreeSet;
use std::slice;

use jsonc_parser::ast::{ObjectProp, Value};
use jsonc_parser::common::Ranged;
use serde::de::value::StrDeserializer;
use serde::de::{DeserializeSeed, Deserializer, MapAccess, SeqAccess, Visitor};

use super::document::name_start;
use super::empty::Empty;
use super::stop::{Repair, Stop, not_one_of};

/// One value of the file, read with the repairs known so far.
#[derive(Clone, Copy)]
pub(super) struct Node<'d> {
    value: &'d Value<'d>,
    repairs: &'d BTreeSet<Repair>,
}

impl<'d> Node<'d> {
    pub(super) fn new(value: &'d Value<'d>, repairs: &'d BTreeSet<Repair>) -> Self {
        Node { value, repairs }
    }

    fn offset(self) -> usize {
        self.value.start()
    }

    fn is_blank(self) -> bool {
        self.repairs.contains(&Repair::Blank(self.offset()))
    }

    fn wrong(self, expected: &str) -> Stop {
        let found = match self.value {
            Value::StringLit(_) => "a text",
            Value::NumberLit(number) => number.value,
            Value::BooleanLit(_) => "true or false",
            Value::Object(_) => "an object",
            Value::Array(_) => "a list",
            Value::NullKeyword(_) => "null",
        };
        Stop::value(self.offset(), format!("Expected {expected}, but found {found}."))
    }

    fn fields(self, properties: &'d [ObjectProp<'d>]) -> Fields<'d> {
        let added = self.repairs.iter().filter_map(|repair| match repair {
            Repair::Add(offset, field) if *offset == self.offset() => Some(*field),
            Repair::Add(_, _) | Repair::Blank(_) | Repair::Skip(_) => None,
        });
        Fields { rest: properties.iter(), repairs: self.repairs, added: added.collect(), next: None }
    }

    fn elements(self, elements: &'d [Value<'d>]) -> Elements<'d> {
        Elements { rest: elements.iter(), repairs: self.repairs }
    }
}

macro_rules! whole_number {
    ($($method:ident $visit:ident $type:ty)*) => {$(
        fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stop> {
            if self.is_blank() {
                return Empty.$method(visitor);
            }
            let number = self.value.as_number_lit().and_then(|number| number.value.parse::<$type>().ok());
            let Some(number) = number else {
                let (least, most) = (<$type>::MIN, <$type>::MAX);
                return Err(self.wrong(&format!("a whole number from {least} to {most}")));
            };
            visitor.$visit(number).map_err(|stop: Stop| stop.at(self.offset()))
        }
    )*};
}

macro_rules! alike {
    ($($method:ident = $same:ident)*) => {$(
        fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stop> {
            self.$same(visitor)
        }
    )*};
}

impl<'de> Deserializer<'de> for Node<'_> {
    type Error = Stop;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stop> {
        if self.is_blank() {
            return Empty.deserialize_any(visitor);
        }
        let read = match self.value {
            Value::StringLit(text) => visitor.visit_str(&text.value),
            Value::NumberLit(number) => {
                if let Ok(whole) = number.value.parse::<u64>() {
                    visitor.visit_u64(whole)
                } else if let Ok(whole) = number.value.parse::<i64>() {
                    visitor.visit_i64(whole)
                } else if let Ok(fraction) = number.value.parse::<f64>() {
                    visitor.visit_f64(fraction)
                } else {
                    return Err(self.wrong("a number of ordinary size"));
                }
            }
            Value::BooleanLit(truth) => visitor.visit_bool(truth.value),
            Value::Object(object) => visitor.visit_map(self.fields(&object.properties)),
            Value::Array(array) => visitor.visit_seq(self.elements(&array.elements)),
            Value::NullKeyword(_) => visitor.visit_unit(),
        };
        read.map_err(|stop: Stop| stop.at(self.offset()))
    }

    whole_number! {
        deserialize_i8 visit_i8 i8
        deserialize_i16 visit_i16 i16
        deserialize_i32 visit_i32 i32
        deserialize_i64 visit_i64 i64
        deserialize_u8 visit_u8 u8
        deserialize_u16 visit_u16 u16
        deserialize_u32 visit_u32 u32
        deserialize_u64 visit_u64 u64
    }

    alike! {
        deserialize_f32 = deserialize_any
        deserialize_f64 = deserialize_any
        deserialize_char = deserialize_any
        deserialize_bytes = deserialize_any
        deserialize_byte_buf = deserialize_any
        deserialize_unit = deserialize_any
        deserialize_str = deserialize_string
        deserialize_identifier = deserialize_string
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stop> {
        if self.is_blank() {
            return Empty.deserialize_bool(visitor);
        }
        match self.value.as_boolean_lit() {
            Some(truth) => visitor.visit_bool(truth.value),
            None => Err(self.wrong("true or false")),
        }
    }

    fn deserialize_string<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stop> {
        if self.is_blank() {
            return Empty.deserialize_string(visitor);
        }
        match self.value.as_string_lit() {
            Some(text) => visitor.visit_str(&text.value).map_err(|stop: Stop| stop.at(self.offset())),
            None => Err(self.wrong("a text in quotation marks")),
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stop> {
        if self.is_blank() || self.value.as_null_keyword().is_some() {
            visitor.visit_none()
        } else {
            visitor.visit_some(self)
        }
    }

    fn deserialize_unit_struct<V: Visitor<'de>>(self, _: &'static str, visitor: V) -> Result<V::Value, Stop> {
        self.deserialize_any(visitor)
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Stop> {
        visitor.visit_newtype_struct(self).map_err(|stop: Stop| stop.at(self.offset()))
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stop> {
        if self.is_blank() {
            return Empty.deserialize_seq(visitor);
        }
        match self.value.as_array() {
            Some(array) => {
                visitor.visit_seq(self.elements(&array.elements)).map_err(|stop: Stop| stop.at(self.offset()))
            }
            None => Err(self.wrong("a list in square brackets")),
        }
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, length: usize, visitor: V) -> Result<V::Value, Stop> {
        if self.is_blank() { Empty.deserialize_tuple(length, visitor) } else { self.deserialize_seq(visitor) }
    }

    fn deserialize_tuple_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        length: usize,
        visitor: V,
    ) -> Result<V::Value, Stop> {
        self.deserialize_tuple(length, visitor)
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stop> {
        if self.is_blank() {
            return Empty.deserialize_map(visitor);
        }
        match self.value.as_object() {
            Some(object) => visitor
                .visit_map(self.fields(&object.properties))
                .map_err(|stop: Stop| stop.at(self.offset())),
            None => Err(self.wrong("an object in braces")),
        }
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        name: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Stop> {
        if self.is_blank() {
            Empty.deserialize_struct(name, fields, visitor)
        } else {
            self.deserialize_map(visitor)
        }
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        name: &'static str,
        variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Stop> {
        if self.is_blank() {
            return Empty.deserialize_enum(name, variants, visitor);
        }
        let Some(word) = self.value.as_string_lit() else {
            return Err(self.wrong(&format!("one of: {}", variants.join(", "))));
        };
        if !variants.contains(&&*word.value) {
            return Err(Stop::value(self.offset(), not_one_of(&word.value, variants)));
        }
        visitor.visit_enum(StrDeserializer::new(&word.value)).map_err(|stop: Stop| stop.at(self.offset()))
    }

    fn deserialize_ignored_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stop> {
        visitor.visit_unit()
    }
}

/// The fields of an object: those of the file, then those that had to be added.
struct Fields<'d> {
    rest: slice::Iter<'d, ObjectProp<'d>>,
    repairs: &'d BTreeSet<Repair>,
    added: Vec<&'static str>,
    next: Option<Node<'d>>,
}

impl<'de> MapAccess<'de> for Fields<'_> {
    type Error = Stop;

    fn next_key_seed<K: DeserializeSeed<'de>>(&mut self, seed: K) -> Result<Option<K::Value>, Stop> {
        let repairs = self.repairs;
        // A field is passed over for its name (unknown, repeated) or for its value (nothing did).
        let skipped = |field: &ObjectProp<'_>| {
            repairs.contains(&Repair::Skip(name_start(field)))
                || repairs.contains(&Repair::Skip(field.value.start()))
        };
        if let Some(field) = self.rest.find(|field| !skipped(field)) {
            self.next = Some(Node::new(&field.value, repairs));
            let name = StrDeserializer::<Stop>::new(field.name.as_str());
            return seed.deserialize(name).map(Some).map_err(|stop| stop.at(name_start(field)));
        }
        self.next = None;
        self.added.pop().map(|name| seed.deserialize(StrDeserializer::<Stop>::new(name))).transpose()
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Stop> {
        match self.next.take() {
            Some(node) => seed.deserialize(node).map_err(|stop| stop.at(node.offset())),
            None => seed.deserialize(Empty),
        }
    }
}

/// The elements of a list.
struct Elements<'d> {
    rest: slice::Iter<'d, Value<'d>>,
    repairs: &'d BTreeSet<Repair>,
}

impl<'de> SeqAccess<'de> for Elements<'_> {
    type Error = Stop;

    fn next_element_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<Option<T::Value>, Stop> {
        let repairs = self.repairs;
        let kept = |element: &&Value<'_>| !repairs.contains(&Repair::Skip(element.start()));
        let Some(element) = self.rest.find(kept) else { return Ok(None) };
        let node = Node::new(element, repairs);
        seed.deserialize(node).map(Some).map_err(|stop| stop.at(node.offset()))
    }
}
