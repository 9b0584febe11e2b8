// Package file writes documents so that a reader ever sees the old file or the
// complete new one: all are written in full beside their targets before the
// first is renamed into its place.
package file

import (
	"context"
	"os"
	"path/filepath"
	"slices"
)

// Output is a document to write.
type Output struct {
	Path string
	Data []byte
}

// Write writes all outputs, or changes none of them: only a rename that fails
// can leave some new and the others as they were, each of them whole. It
// refuses to write over any of the inputs, by whatever name. Runs that write
// into one folder at a time do so in turn where the system has file locks, so
// that their outputs do not mix. The error is the context's or a *Fault.
func Write(ctx context.Context, outputs []Output, inputs []string) error {
	return writeAll(ctx, realDisk{}, outputs, inputs)
}

func writeAll(ctx context.Context, d disk, outputs []Output, inputs []string) error {
	s := &set{disk: d}
	for _, o := range outputs {
		p, err := resolve(o.Path, inputs)
		if err != nil {
			return failed(o.Path, err)
		}
		p.Output = o
		s.places = append(s.places, p)
	}
	defer s.release()
	if err := s.enter(ctx); err != nil {
		return err
	}
	defer s.discard()
	for i := range s.places {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := s.fill(&s.places[i]); err != nil {
			return failed(s.places[i].Path, err)
		}
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	return s.move()
}

// place is an output with the file that it will replace.
type place struct {
	Output
	target string
	mode   os.FileMode // of the file that is there
	exists bool
	tmp    string // the complete file beside the target, "" for none
}

// set is the outputs of one run on their way to their places.
type set struct {
	disk    disk
	places  []place
	folders []string
	locks   []*lock
}

// enter makes the folders, takes them for this run, and removes what runs that
// were killed left in them.
func (s *set) enter(ctx context.Context) error {
	for _, p := range s.places {
		dir := filepath.Dir(p.target)
		if err := s.disk.makeFolder(dir); err != nil {
			return failed(p.Path, err)
		}
		s.folders = append(s.folders, dir)
	}
	slices.Sort(s.folders) // all runs take them in the same order
	s.folders = slices.Compact(s.folders)
	for _, dir := range s.folders {
		l, err := takeFolder(ctx, dir)
		if err != nil {
			return failed(dir, err)
		}
		s.locks = append(s.locks, l)
		sweep(dir, l.held())
	}
	return nil
}

func (s *set) release() {
	for _, l := range s.locks {
		l.release()
	}
}

// fill writes an output beside its target.
func (s *set) fill(p *place) error {
	tmp, err := s.disk.create(filepath.Dir(p.target))
	if err != nil {
		return err
	}
	p.tmp = tmp.Name()
	if p.exists {
		tmp.Chmod(p.mode) // a file system without modes keeps its own
	}
	if _, err = tmp.Write(p.Data); err == nil {
		err = tmp.Sync()
	}
	if cerr := tmp.Close(); err == nil {
		err = cerr
	}
	return err
}

func (s *set) move() error {
	for i := range s.places {
		p := &s.places[i]
		if err := s.disk.rename(p.tmp, p.target); err != nil {
			return failed(p.Path, err)
		}
		p.tmp = ""
	}
	for _, dir := range s.folders {
		syncFolder(dir)
	}
	return nil
}

// discard removes the files that did not get to their places.
func (s *set) discard() {
	for _, p := range s.places {
		if p.tmp != "" {
			os.Remove(p.tmp)
		}
	}
}

// syncFolder makes the renames last; file systems that cannot are let be.
func syncFolder(dir string) {
	if d, err := os.Open(dir); err == nil {
		d.Sync()
		d.Close()
	}
}
