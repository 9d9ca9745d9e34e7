package word

// Former finds what a word of an earlier version of the language is called now;
// ok is false for any other word. Such a word is nowhere read as what it was:
// it is told with the one that has taken its place.
func Former(w string) (now string, ok bool) {
	switch w {
	case "gauge": // to others the thickness of a wire or a sheet
		return "accuracy", true
	case "spread": // to a printer two facing pages
		return "case", true
	case "interval":
		return "line-distance", true
	}
	return "", false
}
