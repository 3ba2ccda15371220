//! Layer 3: the shop file: TOML text to a [`Shop`] or findings with their lines.

use crate::base::Unit;
use crate::diag::Finding;
use crate::model::Shop;

/// Reads a shop file. `unit` is what a bare number is in when the file itself does not say `units`.
pub fn read(file: &str, text: &str) -> Result<Shop, Vec<Finding>> {
    let _ = (file, text, Unit::Inch);
    unimplemented!()
}
