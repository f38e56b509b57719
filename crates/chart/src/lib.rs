//! A figure drawn as SVG.
