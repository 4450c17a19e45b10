//! Indices into the lists of a model, a type for each list.

macro_rules! index {
    ($($(#[$doc:meta])* $name:ident),* $(,)?) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(u32);

        impl $name {
            /// The index of that number.
            pub fn new(number: usize) -> Self {
                Self(number as u32)
            }

            /// The number.
            pub fn usize(self) -> usize {
                self.0 as usize
            }
        }
    )*};
}

index! {
    /// A medium.
    MediumIx,
    /// A system.
    SystemIx,
    /// A piece of information.
    InformationIx,
    /// A given.
    GivenIx,
    /// An item.
    ItemIx,
    /// A node: item, function or given.
    NodeIx,
    /// A fault.
    FaultIx,
    /// An alert.
    AlertIx,
    /// A cockpit state.
    StateIx,
    /// A named quantity.
    QuantityIx,
    /// A position of one control.
    PositionIx,
}
