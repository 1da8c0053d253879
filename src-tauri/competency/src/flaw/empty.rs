//! The empty value that is read where the file's own would not do.

use std::iter;

use serde::de::value::{MapDeserializer, SeqDeserializer, StrDeserializer};
use serde::de::{Deserializer, IntoDeserializer, Visitor};

use super::stop::Stop;

/// Gives nothing, zero, the empty text, the first variant; an object gets all its fields, empty too.
#[derive(Debug, Clone, Copy)]
pub(super) struct Empty;

impl IntoDeserializer<'_, Stop> for Empty {
    type Deserializer = Self;

    fn into_deserializer(self) -> Self {
        self
    }
}

macro_rules! zero {
    ($($method:ident $visit:ident)*) => {$(
        fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stop> {
            visitor.$visit(Default::default())
        }
    )*};
}

impl<'de> Deserializer<'de> for Empty {
    type Error = Stop;

    zero! {
        deserialize_bool visit_bool
        deserialize_i8 visit_i8 deserialize_i16 visit_i16 deserialize_i32 visit_i32 deserialize_i64 visit_i64
        deserialize_u8 visit_u8 deserialize_u16 visit_u16 deserialize_u32 visit_u32 deserialize_u64 visit_u64
        deserialize_f32 visit_f32 deserialize_f64 visit_f64
        deserialize_char visit_char deserialize_str visit_str deserialize_string visit_string
        deserialize_any visit_str deserialize_identifier visit_str
        deserialize_bytes visit_bytes deserialize_byte_buf visit_byte_buf
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stop> {
        visitor.visit_none()
    }

    fn deserialize_unit<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stop> {
        visitor.visit_unit()
    }

    fn deserialize_ignored_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stop> {
        visitor.visit_unit()
    }

    fn deserialize_unit_struct<V: Visitor<'de>>(self, _: &'static str, visitor: V) -> Result<V::Value, Stop> {
        visitor.visit_unit()
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Stop> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stop> {
        visitor.visit_seq(SeqDeserializer::new(iter::empty::<Empty>()))
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, length: usize, visitor: V) -> Result<V::Value, Stop> {
        visitor.visit_seq(SeqDeserializer::new(iter::repeat_n(Empty, length)))
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
        visitor.visit_map(MapDeserializer::new(iter::empty::<(&str, Empty)>()))
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Stop> {
        visitor.visit_map(MapDeserializer::new(fields.iter().map(|field| (*field, Empty))))
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Stop> {
        visitor.visit_enum(StrDeserializer::new(variants.first().copied().unwrap_or_default()))
    }
}
