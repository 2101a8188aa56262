//! What stands around the drawings.

pub(crate) mod best_relief;
pub(crate) mod check_card;
pub(crate) mod cut_sheet;
pub(crate) mod differences;
pub(crate) mod dimensions;
pub(crate) mod extras;
pub(crate) mod field;
pub(crate) mod figures;
pub(crate) mod forms;
pub(crate) mod headroom_map;
pub(crate) mod how_hard;
pub(crate) mod key_list;
pub(crate) mod provenance;
pub(crate) mod search;
pub(crate) mod standings;
pub(crate) mod status_bar;
pub(crate) mod string_table;
pub(crate) mod tips;
pub(crate) mod top_bar;
pub(crate) mod true_notes;
pub(crate) mod verdict;
pub(crate) mod welcome;
pub(crate) mod working;
