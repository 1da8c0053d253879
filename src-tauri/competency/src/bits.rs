//! A set of steps as one 128-bit row.

/// A set of small numbers, 0 to 127; adding a greater one leaves the set as it is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Bits(u128);

impl Bits {
    pub(crate) const EMPTY: Bits = Bits(0);

    pub(crate) fn one(index: usize) -> Bits {
        Bits(u32::try_from(index).ok().and_then(|index| 1_u128.checked_shl(index)).unwrap_or(0))
    }

    /// The numbers 0 to `count` - 1.
    pub(crate) fn first(count: usize) -> Bits {
        (0..count.min(128)).collect()
    }

    pub(crate) fn has(self, index: usize) -> bool {
        self.0 & Bits::one(index).0 != 0
    }

    pub(crate) fn insert(&mut self, index: usize) {
        self.0 |= Bits::one(index).0;
    }

    pub(crate) fn remove(&mut self, index: usize) {
        self.0 &= !Bits::one(index).0;
    }

    pub(crate) fn is_empty(self) -> bool {
        self.0 == 0
    }

    pub(crate) fn and(self, other: Bits) -> Bits {
        Bits(self.0 & other.0)
    }

    pub(crate) fn or(self, other: Bits) -> Bits {
        Bits(self.0 | other.0)
    }

    pub(crate) fn without(self, other: Bits) -> Bits {
        Bits(self.0 & !other.0)
    }

    /// The least number in the set.
    pub(crate) fn least(self) -> Option<usize> {
        (self.0 != 0).then(|| self.0.trailing_zeros() as usize)
    }

    /// The numbers in rising order.
    pub(crate) fn iter(self) -> impl Iterator<Item = usize> {
        let mut rest = self.0;
        std::iter::from_fn(move || {
            let least = Bits(rest).least()?;
            rest &= rest - 1;
            Some(least)
        })
    }
}

impl FromIterator<usize> for Bits {
    fn from_iter<I: IntoIterator<Item = usize>>(numbers: I) -> Bits {
        let mut bits = Bits::EMPTY;
        for number in numbers {
            bits.insert(number);
        }
        bits
    }
}

#[cfg(test)]
mod tests {
    use super::Bits;

    #[test]
    fn holds_what_was_put_in_and_nothing_beyond_128() {
        let bits: Bits = [0, 5, 127, 128, 4_000_000_000_000].into_iter().collect();
        assert_eq!(bits.iter().collect::<Vec<_>>(), [0, 5, 127]);
        assert!(bits.has(127) && !bits.has(128) && !bits.has(1));
        assert_eq!(bits.without(Bits::first(6)).least(), Some(127));
        assert_eq!(Bits::first(500).iter().count(), 128);
        assert_eq!(Bits::EMPTY.least(), None);
    }
}
