// Package contents says what may lie in a piece besides its clear glass: stones,
// metals, layers, skins and stripes, with what is known of each material.
//
// A [Finder] for the clear glass reads the [Words] of a piece, in the grammar of the
// trade, into [Contents]. Every [Value] is SI and carries its range, source and
// status; what is not known is absent, not zero. [Cautions] are what to be warned of
// before something is closed in.
//
// The package computes no stress and knows no shape of a piece; that is package
// seal's. It opens no file: its table of materials is embedded.
package contents
