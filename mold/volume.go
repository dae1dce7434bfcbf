package mold

import (
	"math"
)

// RubberVolume is the volume in mm³ of the rubber in the wheel, as cast, in
// closed form: Pappus-Guldin on the cavity and on the hub's column, plus the
// rubber in the lock holes, less the ribs of the cross grooves (one-dimensional
// quadratures of closed sections, good to about 1e-12).
func (m *Mold) RubberVolume() float64 {
	column := m.Core.Column(0, m.Tread.Top).RevolvedVolume()
	return m.Tread.Volume() - column + float64(m.Core.LockCount)*m.Core.LockVolume()
}

// TrimVolume is the part of RubberVolume in mm³ that lies above the finished wheel's
// face: mold.top_allowance, and below a coned ceiling the cone on it.
func (m *Mold) TrimVolume() float64 {
	t := *m.Tread
	if t.Top == t.Width {
		return 0
	}
	t.Top, t.Ceiling = t.Width, 0
	hub := m.Core.Column(0, m.Tread.Top).RevolvedVolume() - m.Core.Column(0, m.Tread.Width).RevolvedVolume()
	return m.Tread.Volume() - t.Volume() - hub
}

// ChannelVolume is the volume in mm³ of sprue and vents up to the lid's top, in
// closed form; under a coned ceiling it counts the little that lies within the
// cone twice, so it is an upper bound there.
func (m *Mold) ChannelVolume() float64 { return m.ChannelsTo(m.Layout.Ceil - m.Tread.Top) }

// FilledChannels is the part of ChannelVolume in mm³ up to pour.fill.
func (m *Mold) FilledChannels() float64 { return m.ChannelsTo(m.Job.Pour.Fill) }

// ChannelsTo is the volume in mm³ of the channels from the cavity's top to a height
// in mm above it, within the lid: frusta and cylinders.
func (m *Mold) ChannelsTo(height float64) float64 {
	l := m.Layout
	r0, r1 := l.GateR, l.SprueR(height, m.Tread.Top)
	gate := math.Pi * height * (r0*r0 + r0*r1 + r1*r1) / 3
	vent := math.Pi * height * l.VentR * l.VentR
	return float64(len(l.Gates))*gate + float64(len(l.Vents))*vent
}

// SprueR is the radius of a sprue at a height in mm above the cavity's top.
func (l *Layout) SprueR(height, top float64) float64 {
	return l.GateR + (l.MouthR-l.GateR)*height/(l.Ceil-top)
}

// PouredMass is the mass in g of what fills the mold up to pour.fill, as long as
// nothing leaks. The density is that of the cured rubber, so that the volume
// poured is taken as the volume of the cavity.
func (m *Mold) PouredMass() float64 {
	return (m.RubberVolume() + m.FilledChannels()) / 1000 * m.Job.Pour.Density
}
