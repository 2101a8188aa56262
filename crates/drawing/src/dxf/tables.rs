//! What stands before and after the drawing in a DXF: units, line types, layers, and the
//! empty tables and blocks that readers of release 2000 expect.

use super::{File, LEVELS, Release};
use crate::paper::Page;

/// Handle of the block that holds the drawing.
pub(super) const MODEL_SPACE: &str = "1F";
const PAPER_SPACE: &str = "1B";

/// A line type: its name, what it is called, and its dashes (gaps negative) in mm.
///
/// # Source
/// ISO 128-2 for the ratio of dashes and gaps to the width of a line, at 0.18 mm.
const LINE_TYPES: [(&str, &str, &[f64]); 4] = [
    ("CONTINUOUS", "Solid line", &[]),
    ("HIDDEN", "Hidden __ __ __", &[2.16, -0.54]),
    ("CENTER", "Center ____ _ ____", &[4.32, -0.54, 0.09, -0.54]),
    ("PHANTOM", "Phantom ____ _ _ ____", &[4.32, -0.54, 0.09, -0.54, 0.09, -0.54]),
];

impl File {
    fn new_release(&self) -> bool {
        self.release == Release::R2000
    }

    pub(super) fn head(&mut self, page: &Page) {
        self.pair(0, "SECTION");
        self.pair(2, "HEADER");
        self.pair(9, "$ACADVER");
        self.pair(1, if self.new_release() { "AC1015" } else { "AC1009" });
        if self.new_release() {
            self.pair(9, "$HANDSEED");
            self.pair(5, "FFFFFF");
            // millimetres
            self.pair(9, "$INSUNITS");
            self.pair(70, 4);
            self.pair(9, "$MEASUREMENT");
            self.pair(70, 1);
        }
        self.pair(9, "$EXTMIN");
        self.solid_point(10, kurbo::Point::ZERO);
        self.pair(9, "$EXTMAX");
        self.solid_point(10, kurbo::Point::new(page.width, page.height));
        self.pair(9, "$LTSCALE");
        self.number(40, 1.0);
        self.pair(9, "$LUNITS");
        self.pair(70, 2);
        self.pair(0, "ENDSEC");

        self.pair(0, "SECTION");
        self.pair(2, "TABLES");
        if self.new_release() {
            self.table("VPORT", 0, |_| {});
        }
        let mut types = LINE_TYPES.len();
        if self.new_release() {
            types += 2;
        }
        self.table("LTYPE", types, |file| {
            if file.new_release() {
                file.line_type("ByBlock", "", &[]);
                file.line_type("ByLayer", "", &[]);
            }
            for (name, words, dashes) in LINE_TYPES {
                file.line_type(name, words, dashes);
            }
        });
        self.table("LAYER", LEVELS.len() + 1, |file| {
            file.layer("0", "CONTINUOUS", 7, 18);
            for level in LEVELS {
                file.layer(level.name, level.line_type, level.colour, level.weight);
            }
        });
        self.table("STYLE", 1, Self::style);
        if self.new_release() {
            self.table("VIEW", 0, |_| {});
            self.table("UCS", 0, |_| {});
            self.table("APPID", 1, |file| {
                file.record("APPID", "AcDbRegAppTableRecord", "ACAD");
                file.pair(70, 0);
            });
            self.dim_styles();
            self.table("BLOCK_RECORD", 2, |file| {
                for (handle, name) in [(MODEL_SPACE, "*Model_Space"), (PAPER_SPACE, "*Paper_Space")]
                {
                    file.pair(0, "BLOCK_RECORD");
                    file.pair(5, handle);
                    file.pair(330, "F0");
                    file.pair(100, "AcDbSymbolTableRecord");
                    file.pair(100, "AcDbBlockTableRecord");
                    file.pair(2, name);
                    file.pair(340, "0");
                }
            });
        }
        self.pair(0, "ENDSEC");
        if self.new_release() {
            self.blocks();
        }
    }

    fn table(&mut self, name: &str, count: usize, fill: impl FnOnce(&mut Self)) {
        self.pair(0, "TABLE");
        self.pair(2, name);
        if self.new_release() {
            // the records of blocks name their table
            let handle = if name == "BLOCK_RECORD" { "F0".to_owned() } else { self.next_handle() };
            self.pair(5, handle);
            self.pair(330, "0");
            self.pair(100, "AcDbSymbolTable");
        }
        self.pair(70, count);
        fill(self);
        self.pair(0, "ENDTAB");
    }

    fn record(&mut self, kind: &str, class: &str, name: &str) {
        self.pair(0, kind);
        if self.new_release() {
            let handle = self.next_handle();
            self.pair(5, handle);
            self.pair(100, "AcDbSymbolTableRecord");
            self.pair(100, class);
        }
        self.pair(2, name);
    }

    fn line_type(&mut self, name: &str, words: &str, dashes: &[f64]) {
        self.record("LTYPE", "AcDbLinetypeTableRecord", name);
        self.pair(70, 0);
        self.pair(3, words);
        self.pair(72, 65);
        self.pair(73, dashes.len());
        self.number(40, dashes.iter().map(|dash| dash.abs()).sum());
        for &dash in dashes {
            self.number(49, dash);
            if self.new_release() {
                self.pair(74, 0);
            }
        }
    }

    fn layer(&mut self, name: &str, line_type: &str, colour: u8, weight: u16) {
        self.record("LAYER", "AcDbLayerTableRecord", name);
        self.pair(70, 0);
        self.pair(62, colour);
        self.pair(6, line_type);
        if self.new_release() {
            self.pair(370, weight);
            self.pair(390, "F");
        }
    }

    fn style(&mut self) {
        self.record("STYLE", "AcDbTextStyleTableRecord", "STANDARD");
        self.pair(70, 0);
        for (code, value) in [(40, 0.0), (41, 1.0), (50, 0.0)] {
            self.number(code, value);
        }
        self.pair(71, 0);
        self.number(42, 2.5);
        self.pair(3, "txt");
        self.pair(4, "");
    }

    fn dim_styles(&mut self) {
        self.pair(0, "TABLE");
        self.pair(2, "DIMSTYLE");
        let handle = self.next_handle();
        self.pair(5, handle);
        self.pair(330, "0");
        self.pair(100, "AcDbSymbolTable");
        self.pair(70, 1);
        self.pair(100, "AcDbDimStyleTable");
        self.pair(0, "DIMSTYLE");
        // this one record has its handle under a code of its own
        let handle = self.next_handle();
        self.pair(105, handle);
        self.pair(100, "AcDbSymbolTableRecord");
        self.pair(100, "AcDbDimStyleTableRecord");
        self.pair(2, "STANDARD");
        self.pair(70, 0);
        self.pair(0, "ENDTAB");
    }

    fn blocks(&mut self) {
        self.pair(0, "SECTION");
        self.pair(2, "BLOCKS");
        for (owner, name) in [(MODEL_SPACE, "*Model_Space"), (PAPER_SPACE, "*Paper_Space")] {
            for (kind, class) in [("BLOCK", "AcDbBlockBegin"), ("ENDBLK", "AcDbBlockEnd")] {
                self.pair(0, kind);
                let handle = self.next_handle();
                self.pair(5, handle);
                self.pair(330, owner);
                self.pair(100, "AcDbEntity");
                self.pair(8, "0");
                self.pair(100, class);
                if kind == "BLOCK" {
                    self.pair(2, name);
                    self.pair(70, 0);
                    self.solid_point(10, kurbo::Point::ZERO);
                    self.pair(3, name);
                    self.pair(1, "");
                }
            }
        }
        self.pair(0, "ENDSEC");
    }

    /// The objects that readers of release 2000 expect, and the end of the file.
    pub(super) fn foot(&mut self) {
        if self.new_release() {
            self.pair(0, "SECTION");
            self.pair(2, "OBJECTS");
            let dictionary =
                |file: &mut Self, handle: &str, owner: &str, entries: &[(&str, &str)]| {
                    file.pair(0, "DICTIONARY");
                    file.pair(5, handle);
                    file.pair(330, owner);
                    file.pair(100, "AcDbDictionary");
                    file.pair(281, 1);
                    for (name, value) in entries {
                        file.pair(3, name);
                        file.pair(350, value);
                    }
                };
            dictionary(self, "C", "0", &[("ACAD_GROUP", "D"), ("ACAD_PLOTSTYLENAME", "E")]);
            dictionary(self, "D", "C", &[]);
            self.pair(0, "ACDBDICTIONARYWDFLT");
            self.pair(5, "E");
            self.pair(330, "C");
            self.pair(100, "AcDbDictionary");
            self.pair(281, 1);
            self.pair(3, "Normal");
            self.pair(350, "F");
            self.pair(100, "AcDbDictionaryWithDefault");
            self.pair(340, "F");
            self.pair(0, "ACDBPLACEHOLDER");
            self.pair(5, "F");
            self.pair(330, "E");
            self.pair(0, "ENDSEC");
        }
        self.pair(0, "EOF");
    }
}
