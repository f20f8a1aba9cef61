//! Reads what `pack` wrote, in postcard's form, behind a seal that held. So nothing can be wrong
//! with it: there is no way to fail, and the browser's engine carries no code for failing at
//! each of some thousand steps.

use serde::de::{
    DeserializeSeed, Deserializer, EnumAccess, Error, IntoDeserializer, SeqAccess, VariantAccess,
    Visitor,
};
use std::fmt::{self, Display};

pub(super) struct Unpacker<'b> {
    pub bytes: &'b [u8],
}

impl<'b> Unpacker<'b> {
    fn take(&mut self, count: usize) -> &'b [u8] {
        let (taken, rest) = self.bytes.split_at(count);
        self.bytes = rest;
        taken
    }

    fn byte(&mut self) -> u8 {
        self.take(1)[0]
    }

    /// Seven bits a byte, the lowest first.
    fn number(&mut self) -> u64 {
        let (mut number, mut shift) = (0, 0);
        loop {
            let byte = self.byte();
            number |= u64::from(byte & 127) << shift;
            shift += 7;
            if byte < 128 {
                return number;
            }
        }
    }

    /// The sign in the lowest bit.
    fn signed(&mut self) -> i64 {
        let number = self.number();
        (number >> 1).cast_signed() ^ -(number & 1).cast_signed()
    }

    fn text(&mut self) -> &'b str {
        let count = self.number() as usize;
        std::str::from_utf8(self.take(count)).unwrap_or_default()
    }
}

/// What can't be: a catalog that was sealed is one.
#[derive(Debug)]
pub(super) enum Wrong {}

impl Display for Wrong {
    fn fmt(&self, _: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {}
    }
}

impl std::error::Error for Wrong {}

impl Error for Wrong {
    fn custom<T: Display>(_: T) -> Wrong {
        panic!("a sealed catalog can't be read")
    }

    // as they come, each would put its own words together
    fn invalid_length(_: usize, _: &dyn serde::de::Expected) -> Wrong {
        Wrong::custom("")
    }

    fn invalid_value(_: serde::de::Unexpected<'_>, _: &dyn serde::de::Expected) -> Wrong {
        Wrong::custom("")
    }

    fn invalid_type(_: serde::de::Unexpected<'_>, _: &dyn serde::de::Expected) -> Wrong {
        Wrong::custom("")
    }
}

/// Methods that hand a visitor one value.
macro_rules! simple {
    ($($method:ident: $self:ident => $visit:ident($value:expr);)*) => {
        $(
            #[inline(always)]
            fn $method<V: Visitor<'b>>($self, visitor: V) -> Result<V::Value, Wrong> {
                visitor.$visit($value)
            }
        )*
    };
}

/// Methods that postcard has no form for, or that no catalog asks for.
macro_rules! unknown {
    ($($method:ident)*) => {
        $(
            fn $method<V: Visitor<'b>>(self, _: V) -> Result<V::Value, Wrong> {
                panic!("no catalog has such a thing")
            }
        )*
    };
}

impl<'b> Deserializer<'b> for &mut Unpacker<'b> {
    type Error = Wrong;

    simple! {
        deserialize_bool: self => visit_bool(self.byte() != 0);
        deserialize_i8: self => visit_i8(self.byte().cast_signed());
        deserialize_i16: self => visit_i16(self.signed() as i16);
        deserialize_i32: self => visit_i32(self.signed() as i32);
        deserialize_i64: self => visit_i64(self.signed());
        deserialize_u8: self => visit_u8(self.byte());
        deserialize_u16: self => visit_u16(self.number() as u16);
        deserialize_u32: self => visit_u32(self.number() as u32);
        deserialize_u64: self => visit_u64(self.number());
        deserialize_f64: self => visit_f64(f64::from_le_bytes(self.take(8).try_into().unwrap_or_default()));
        deserialize_str: self => visit_borrowed_str(self.text());
        deserialize_string: self => visit_borrowed_str(self.text());
    }

    unknown! {
        deserialize_any deserialize_f32 deserialize_char deserialize_bytes deserialize_byte_buf
        deserialize_map deserialize_identifier deserialize_ignored_any
    }

    #[inline(always)]
    fn deserialize_option<V: Visitor<'b>>(self, visitor: V) -> Result<V::Value, Wrong> {
        match self.byte() {
            0 => visitor.visit_none(),
            _ => visitor.visit_some(self),
        }
    }

    #[inline(always)]
    fn deserialize_unit<V: Visitor<'b>>(self, visitor: V) -> Result<V::Value, Wrong> {
        visitor.visit_unit()
    }

    #[inline(always)]
    fn deserialize_unit_struct<V: Visitor<'b>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Wrong> {
        visitor.visit_unit()
    }

    #[inline(always)]
    fn deserialize_newtype_struct<V: Visitor<'b>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Wrong> {
        visitor.visit_newtype_struct(self)
    }

    #[inline(always)]
    fn deserialize_seq<V: Visitor<'b>>(self, visitor: V) -> Result<V::Value, Wrong> {
        let left = self.number() as usize;
        visitor.visit_seq(Items { from: self, left })
    }

    #[inline(always)]
    fn deserialize_tuple<V: Visitor<'b>>(self, _: usize, visitor: V) -> Result<V::Value, Wrong> {
        visitor.visit_seq(Parts { from: self })
    }

    #[inline(always)]
    fn deserialize_tuple_struct<V: Visitor<'b>>(
        self,
        _: &'static str,
        _: usize,
        visitor: V,
    ) -> Result<V::Value, Wrong> {
        visitor.visit_seq(Parts { from: self })
    }

    #[inline(always)]
    fn deserialize_struct<V: Visitor<'b>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Wrong> {
        visitor.visit_seq(Parts { from: self })
    }

    #[inline(always)]
    fn deserialize_enum<V: Visitor<'b>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Wrong> {
        visitor.visit_enum(Parts { from: self })
    }

    fn is_human_readable(&self) -> bool {
        false
    }
}

/// A list, with its length before it.
struct Items<'u, 'b> {
    from: &'u mut Unpacker<'b>,
    left: usize,
}

impl<'b> SeqAccess<'b> for Items<'_, 'b> {
    type Error = Wrong;

    #[inline(always)]
    fn next_element_seed<T: DeserializeSeed<'b>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, Wrong> {
        if self.left == 0 {
            return Ok(None);
        }
        self.left -= 1;
        seed.deserialize(&mut *self.from).map(Some)
    }

    fn size_hint(&self) -> Option<usize> {
        Some(self.left)
    }
}

/// A type's own parts, as many as it has.
struct Parts<'u, 'b> {
    from: &'u mut Unpacker<'b>,
}

impl<'b> SeqAccess<'b> for Parts<'_, 'b> {
    type Error = Wrong;

    #[inline(always)]
    fn next_element_seed<T: DeserializeSeed<'b>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, Wrong> {
        seed.deserialize(&mut *self.from).map(Some)
    }
}

impl<'b> EnumAccess<'b> for Parts<'_, 'b> {
    type Error = Wrong;
    type Variant = Self;

    #[inline(always)]
    fn variant_seed<T: DeserializeSeed<'b>>(self, seed: T) -> Result<(T::Value, Self), Wrong> {
        let variant = self.from.number() as u32;
        Ok((seed.deserialize(variant.into_deserializer())?, self))
    }
}

impl<'b> VariantAccess<'b> for Parts<'_, 'b> {
    type Error = Wrong;

    #[inline(always)]
    fn unit_variant(self) -> Result<(), Wrong> {
        Ok(())
    }

    #[inline(always)]
    fn newtype_variant_seed<T: DeserializeSeed<'b>>(self, seed: T) -> Result<T::Value, Wrong> {
        seed.deserialize(self.from)
    }

    #[inline(always)]
    fn tuple_variant<V: Visitor<'b>>(self, _: usize, visitor: V) -> Result<V::Value, Wrong> {
        visitor.visit_seq(self)
    }

    #[inline(always)]
    fn struct_variant<V: Visitor<'b>>(
        self,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Wrong> {
        visitor.visit_seq(self)
    }
}
