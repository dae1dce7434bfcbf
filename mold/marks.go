package mold

func (b *builder) marks() {}
