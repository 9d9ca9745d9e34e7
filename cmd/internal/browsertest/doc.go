// Package browsertest has Chromium look at pages, for tests.
//
// Start from [Start], then [Browser.Open] a page, [Browser.Run] scripts in it and take
// its [Browser.Picture]. A machine without it skips the test, but where CI=true.
package browsertest
