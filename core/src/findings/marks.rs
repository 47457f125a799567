//! A set of indications, whatever their number.

/// A mark for each indication.
#[derive(Clone, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) struct Marks([u32; 8]);

impl Marks {
    fn place(indication: u8) -> (usize, u32) {
        (usize::from(indication / 32), 1 << (indication % 32))
    }

    pub fn mark(&mut self, indication: u8) {
        let (word, bit) = Self::place(indication);
        if let Some(word) = self.0.get_mut(word) {
            *word |= bit;
        }
    }

    pub fn has(&self, indication: u8) -> bool {
        let (word, bit) = Self::place(indication);
        self.0.get(word).is_some_and(|word| word & bit != 0)
    }

    /// The places that are marked.
    pub fn iter(&self) -> impl Iterator<Item = u8> + Clone + '_ {
        (0..=u8::MAX).filter(|indication| self.has(*indication))
    }
}
