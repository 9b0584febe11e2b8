package main

import (
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"os"
	"path/filepath"
	"strings"
)

// variable is the environment variable that names the mutation to take.
const variable = "POURBOOK_MUTATION"

// splice writes an overlay of the go command in which every mutated function
// stands once whole and once per mutation, and a switch in its name; so one
// build holds all mutations. It gives out those that lie outside functions,
// which need a build of their own.
func splice(dir string, all []mutation) (overlay string, alone map[int]bool, err error) {
	alone, files := map[int]bool{}, map[string]string{}
	byFile := map[string][]int{}
	for i, m := range all {
		byFile[m.file] = append(byFile[m.file], i)
	}
	for file, own := range byFile {
		text, pkg, err := spliced(file, all, own, alone)
		if err != nil {
			return "", nil, err
		}
		files[file] = text
		files[filepath.Join(filepath.Dir(file), "mutation_taken.go")] =
			"package " + pkg + "\n\nimport \"os\"\n\nvar mutationTaken = os.Getenv(\"" + variable + "\")\n"
	}
	overlay, err = overlayOf(dir, "all", files)
	return overlay, alone, err
}

// spliced is a file's text with all of its mutations, and its package's name.
func spliced(file string, all []mutation, own []int, alone map[int]bool) (text, pkg string, err error) {
	data, err := os.ReadFile(file)
	if err != nil {
		return "", "", err
	}
	set := token.NewFileSet()
	tree, err := parser.ParseFile(set, file, data, 0)
	if err != nil {
		return "", "", err
	}
	src, left := string(data), map[int]bool{}
	for _, i := range own {
		left[i] = true
	}
	at := func(p token.Pos) int { return set.Position(p).Offset }
	var out strings.Builder
	last := 0
	for _, d := range tree.Decls {
		f, ok := d.(*ast.FuncDecl)
		if !ok {
			continue
		}
		from, name, body, to := at(f.Pos()), at(f.Name.Pos()), at(f.Body.Lbrace), at(f.End())
		copied := func(suffix string, whole string) string {
			return src[from:name] + f.Name.Name + suffix + whole[name-from+len(f.Name.Name):] + "\n\n"
		}
		var cases, copies strings.Builder
		call, head := callOf(src, at, f)
		for _, i := range own {
			if p := strings.Index(src, all[i].old); p < from || p >= to {
				continue
			}
			delete(left, i)
			suffix := fmt.Sprint("Broken", i)
			copies.WriteString(copied(suffix, strings.Replace(src[from:to], all[i].old, all[i].put, 1)))
			fmt.Fprintf(&cases, "case \"%d\":\n%s\nreturn\n", i, fmt.Sprintf(call, suffix))
		}
		if cases.Len() == 0 {
			continue
		}
		switched := "switch mutationTaken {\n" + cases.String() + "}\n" + fmt.Sprintf(call, "Whole")
		if f.Type.Results != nil {
			switched = strings.ReplaceAll(switched, "\nreturn\n", "\n")
		}
		out.WriteString(src[last:from] + src[from:name] + f.Name.Name + head + src[at(f.Type.Params.End()):body] + "{\n" + switched + "\n}\n\n")
		out.WriteString(copied("Whole", src[from:to]) + copies.String())
		last = to
	}
	maps.Copy(alone, left)
	return out.String() + src[last:], tree.Name.Name, nil
}

// callOf is a call of a function's copy, with %s after its name, and the
// parameters of one that passes all of them on.
func callOf(src string, at func(token.Pos) int, f *ast.FuncDecl) (call, params string) {
	var args, fields []string
	for _, p := range f.Type.Params.List {
		kind := src[at(p.Type.Pos()):at(p.Type.End())]
		for range max(1, len(p.Names)) {
			name := fmt.Sprint("given", len(args))
			fields = append(fields, name+" "+kind)
			if strings.HasPrefix(kind, "...") {
				name += "..."
			}
			args = append(args, name)
		}
	}
	call = f.Name.Name + "%s(" + strings.Join(args, ", ") + ")"
	if f.Recv != nil {
		call = f.Recv.List[0].Names[0].Name + "." + call
	}
	if f.Type.Results != nil {
		call = "return " + call
	}
	return call, "(" + strings.Join(fields, ", ") + ")"
}

// overlayOf writes files and the go command's list that puts them in the
// places of those of the checkout.
func overlayOf(dir, name string, files map[string]string) (string, error) {
	places := map[string]string{}
	for file, text := range files {
		place, err := filepath.Abs(file)
		if err != nil {
			return "", err
		}
		places[place] = filepath.Join(dir, fmt.Sprint(name, "-", len(places), ".go"))
		if err := os.WriteFile(places[place], []byte(text), 0o644); err != nil {
			return "", err
		}
	}
	data, err := json.Marshal(map[string]any{"Replace": places})
	if err != nil {
		return "", err
	}
	list := filepath.Join(dir, name+".json")
	return list, os.WriteFile(list, data, 0o644)
}
