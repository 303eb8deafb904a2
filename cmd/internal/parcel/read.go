package parcel

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"hatchlore/cmd/internal/stream"
	"hatchlore/evidence"
	"hatchlore/evidence/store"
)

// readParcel reads an exported folder. Whatever is wrong with a file is told
// with its name.
func readParcel(dir string) (store.Parcel, error) {
	form, err := readForm(dir)
	if err != nil {
		return store.Parcel{}, err
	}
	var papers []paperFile
	var claims []evidence.Claim
	var decisions []decisionFile
	var aliases []aliasFile
	var words annotationPage
	var lots []lotFile
	var trials []trialFile
	var experiments []store.ParcelExperiment
	for _, f := range []struct {
		since int // form
		name  string
		into  any
	}{
		{1, papersFile, &papers}, {1, claimsFile, &claims}, {1, decisionsFile, &decisions}, {1, aliasesFile, &aliases}, {1, quotesFile, &words},
		{2, lotsFile, &lots}, {2, trialsFile, &trials}, {2, experimentsFile, &experiments},
	} {
		if form < f.since {
			continue
		}
		if err := readJSON(dir, f.name, f.into); err != nil {
			return store.Parcel{}, err
		}
	}
	if form < 3 && !tellsPrivately(lots) {
		for i := range trials {
			trials[i].Keeper = store.AnotherKeeper
		}
	}
	out := store.Parcel{
		Lots: mapped(lots, lotFile.parcel), Trials: mapped(trials, trialFile.parcel), Experiments: experiments,
		Papers:    mapped(papers, paperFile.parcel),
		Decisions: mapped(decisions, decisionFile.parcel),
		Aliases:   mapped(aliases, func(f aliasFile) store.Alias { return store.Alias{Old: f.Old, New: f.New, Reason: f.Reason, At: f.At} }),
	}
	if out.Claims, err = parcelClaims(papers, claims, words); err != nil {
		return store.Parcel{}, fmt.Errorf("%s: %w", filepath.Join(dir, claimsFile), err)
	}
	return out, nil
}

// readForm reads in which form a folder was written, and refuses one that no
// export wrote, or a newer program's.
func readForm(dir string) (int, error) {
	const wanted = "name a folder that 'hatchlore export' wrote"
	info, err := os.Stat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return 0, fmt.Errorf("%s does not exist: %s", dir, wanted)
	case err == nil && !info.IsDir():
		return 0, fmt.Errorf("%s is a file: %s", dir, wanted)
	}
	var m manifest
	err = readJSON(dir, manifestFile, &m)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return 0, fmt.Errorf("%s is no folder that 'hatchlore export' wrote: it has no %s", dir, manifestFile)
	case err != nil:
		return 0, err
	case m.Form < 1:
		return 0, fmt.Errorf("%s does not say in which form it was written: %s", filepath.Join(dir, manifestFile), wanted)
	case m.Form > parcelForm:
		return 0, fmt.Errorf("%s was written by a newer version of this program: update the program and try again", dir)
	}
	return m.Form, nil
}

// tellsPrivately reports whether lots come with what only a copy of one's own has.
func tellsPrivately(lots []lotFile) bool {
	return slices.ContainsFunc(lots, func(l lotFile) bool { return l.Site+l.Collector+l.Permit != "" })
}

// parcelClaims joins claims with their papers and with what stands around
// their quotes, and refuses those that are unsound.
func parcelClaims(papers []paperFile, claims []evidence.Claim, words annotationPage) ([]store.ParcelClaim, error) {
	hashes := map[string]string{}
	for _, p := range papers {
		hashes[p.Paper] = p.Hash
	}
	around := map[string]quoteSelector{}
	for _, a := range words.Items {
		around[claimOfAnnotation(a.ID)] = a.Target.Selector.RefinedBy
	}
	var out []store.ParcelClaim
	for _, c := range claims {
		hash, ok := hashes[c.Paper]
		if !ok {
			return nil, fmt.Errorf("claim %s is of the paper %q, which %s lacks", c.ID, c.Paper, papersFile)
		}
		if problems := c.Lint(); len(problems) > 0 {
			return nil, fmt.Errorf("claim %s is not sound: %s", c.ID, problems[0])
		}
		q := around[c.ID]
		out = append(out, store.ParcelClaim{Claim: c, Hash: hash, Before: q.Prefix, Behind: q.Suffix})
	}
	return out, nil
}

func readJSON(dir, name string, into any) error {
	data, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		return fmt.Errorf("%s cannot be read: %w", filepath.Join(dir, name), stream.Cause(err))
	}
	if err := json.Unmarshal(data, into); err != nil {
		return fmt.Errorf("%s is not as 'hatchlore export' writes it: %s", filepath.Join(dir, name), fault(err))
	}
	return nil
}

// fault says where a file of JSON goes wrong.
func fault(err error) string {
	var odd *json.UnmarshalTypeError
	var broken *json.SyntaxError
	switch {
	case errors.As(err, &odd):
		return fmt.Sprintf("there is %s at byte %d, where something else belongs", odd.Value, odd.Offset)
	case errors.As(err, &broken) && strings.HasPrefix(broken.Error(), "unexpected end"):
		return "it breaks off"
	case errors.As(err, &broken):
		return fmt.Sprintf("it is spoilt at byte %d", broken.Offset)
	}
	return err.Error()
}
