// Package browse holds nothing but tests: it walks the local page of the built
// command in a browser, as a keeper does, from an empty library to a verdict.
//
// It refuses a page that says something on the browser's console, that is wider
// than its window, or that fails the accessibility rules.
package browse
