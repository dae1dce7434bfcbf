package main

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"fmt"
	"slices"
)

// placed is a package with its places for faults, in the order in which they are tried.
type placed struct {
	in    goPackage
	sites []site
}

func sizes(lists []placed) []int {
	var n []int
	for _, l := range lists {
		n = append(n, len(l.sites))
	}
	return n
}

// rank orders places so that operators, constants and signs take turns, each sort by a
// hash of what the fault says: a change elsewhere in a file leaves the choice as it was.
func rank(sites []site, seed int) []site {
	type key struct {
		hash [sha256.Size]byte
		turn int
	}
	keys := map[site]key{}
	var by [sorts][]site
	same := map[string]int{} // how many faults read the same so far
	for _, s := range sites {
		says := fmt.Sprint(seed, "\n", s.name, "\n", s.function, "\n", s.was, "\n", s.is)
		same[says]++
		keys[s] = key{hash: sha256.Sum256(fmt.Append(nil, says, "\n", same[says]))}
		by[s.sort] = append(by[s.sort], s)
	}
	for _, list := range by {
		slices.SortFunc(list, func(a, b site) int {
			ka, kb := keys[a], keys[b]
			return bytes.Compare(ka.hash[:], kb.hash[:])
		})
		for i, s := range list {
			keys[s] = key{keys[s].hash, i}
		}
	}
	all := slices.Concat(by[:]...)
	slices.SortStableFunc(all, func(a, b site) int { return cmp.Compare(keys[a].turn, keys[b].turn) })
	return all
}

// apportion shares n faults among packages with so many places each: one for each, the
// rest in proportion, by largest remainder. No package gets more than it has places.
func apportion(places []int, n int) []int {
	total := 0
	for _, p := range places {
		total += p
	}
	rest := max(n-len(places), 0)
	counts := make([]int, len(places))
	order := make([]int, len(places))
	given := 0
	for i, p := range places {
		counts[i] = rest * p / total
		order[i] = i
		given += counts[i]
	}
	remainder := func(i int) int { return rest * places[i] % total }
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(remainder(b), remainder(a)) })
	for _, i := range order[:rest-given] {
		counts[i]++
	}
	for i, p := range places {
		counts[i] = min(counts[i]+1, p)
	}
	return counts
}
