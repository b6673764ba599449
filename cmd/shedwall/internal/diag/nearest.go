package diag

import "strings"

// Nearest is the known name closest to a mistyped one, or "" where none is near
// enough to propose: at most one slip (insert, drop, change or swap of two
// neighbours) for each three letters, at least one; else the one known name that
// begins with what was typed.
func Nearest(name string, known []string) string {
	limit := max(1, len([]rune(name))/3)
	best, bestDist := "", limit+1
	begun := ""
	for _, k := range known {
		if d := slips(name, k); d < bestDist || d == bestDist && best != "" && k < best {
			best, bestDist = k, d
		}
		if len(name) >= 3 && strings.HasPrefix(k, name) {
			if begun != "" {
				begun = "?" // more than one: none is proposed
			} else {
				begun = k
			}
		}
	}
	if best == "" && begun != "?" {
		return begun
	}
	return best
}

// slips is the restricted Damerau-Levenshtein distance in characters.
func slips(a, b string) int {
	x, y := []rune(a), []rune(b)
	prev2, prev, cur := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(x); i++ {
		cur[0] = i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			cur[j] = min(prev[j]+1, cur[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				cur[j] = min(cur[j], prev2[j-2]+1)
			}
		}
		prev2, prev, cur = prev, cur, prev2
	}
	return prev[len(y)]
}
