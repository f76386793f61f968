package photo

// tone is the exponent that makes light of a picture's brightness, about that of sRGB (IEC
// 61966-2-1). Blur and shadows are sums and products of light.
const tone = 2.2
