//! Layer 2: data rows, each with its source: common stock, hardware by its geometry, the thickness that standards allow.
