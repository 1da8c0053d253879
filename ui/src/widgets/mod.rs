//! Parts that more than one view uses. They take data and callbacks and ask the shell for nothing,
//! except the person picker, which searches as one types.

pub(crate) mod announcer;
pub(crate) mod changes;
pub(crate) mod choice;
pub(crate) mod date;
pub(crate) mod doing;
pub(crate) mod drawing;
pub(crate) mod field;
pub(crate) mod files;
pub(crate) mod loaded;
pub(crate) mod mark;
pub(crate) mod person_picker;
pub(crate) mod places;
pub(crate) mod scrolled;
pub(crate) mod select;
pub(crate) mod standing;
pub(crate) mod title;
