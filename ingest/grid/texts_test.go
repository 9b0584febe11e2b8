package grid

func textsOf(all ...string) *texts {
	var t texts
	for _, s := range all {
		t.add([]byte(s))
	}
	t.seal()
	return &t
}
