// Package edition keeps account of what was printed: the ledger of an edition with the
// figures behind each date, how it is written, and what moved from one edition to the
// next and which cell moved it. It reads no files and words no sentences.
package edition
