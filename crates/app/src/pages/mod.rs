//! The pages, one file each.

pub(crate) mod compare;
pub(crate) mod dry_fit;
pub(crate) mod how_true;
pub(crate) mod joint;
pub(crate) mod lay_out;
pub(crate) mod paper;
pub(crate) mod strings;
