//! The pages, one file each.

pub(crate) mod lay_out;
