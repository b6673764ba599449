// Package proof helps tests that need more than Go and this repository: a browser,
// validators of HTML and PDF, or real weather records. Such a test skips with a
// reason where they are absent, and fails where they are required. Tests import
// this package; the program never does.
package proof
