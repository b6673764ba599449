package band

// WinterShift is what lies between a station and the band for winter lows: the lapse
// and the offsets of the mean annual extreme minimum, at the band's mid height.
func (c *Climate) WinterShift(station int) Shift { return c.winterShift(station) }
