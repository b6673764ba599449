package words

import (
	"maps"
	"slices"
)

// pluralRules choose the form of a phrase for a whole number, in the categories
// that translators know (Unicode CLDR plural rules, whole numbers only). A
// language without a rule here is counted as English, and the publisher is told.
var pluralRules = map[string]func(n int) string{
	"en": oneIfOne, "es": oneIfOne, "de": oneIfOne, "it": oneIfOne, "nl": oneIfOne, "sv": oneIfOne,
	"da": oneIfOne, "nb": oneIfOne, "nn": oneIfOne, "fi": oneIfOne, "ca": oneIfOne, "eu": oneIfOne, "gl": oneIfOne,
	"fr": oneIfNoneOrOne, "pt": oneIfNoneOrOne,
	"ja": never, "zh": never, "ko": never, "vi": never,
	"pl": slavicPL, "cs": czech, "sk": czech, "ru": slavicRU, "uk": slavicRU,
}

func languages() []string { return slices.Sorted(maps.Keys(pluralRules)) }

func oneIfOne(n int) string {
	if n == 1 {
		return "one"
	}
	return "other"
}

func oneIfNoneOrOne(n int) string {
	if n == 0 || n == 1 {
		return "one"
	}
	return "other"
}

func never(int) string { return "other" }

func czech(n int) string {
	switch {
	case n == 1:
		return "one"
	case n >= 2 && n <= 4:
		return "few"
	}
	return "other"
}

func slavicPL(n int) string {
	if n == 1 {
		return "one"
	}
	return fewOrMany(n)
}

func slavicRU(n int) string {
	if n%10 == 1 && n%100 != 11 {
		return "one"
	}
	return fewOrMany(n)
}

func fewOrMany(n int) string {
	if d, h := n%10, n%100; d >= 2 && d <= 4 && (h < 12 || h > 14) {
		return "few"
	}
	return "many"
}
