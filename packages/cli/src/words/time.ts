/** A time as one says it [s]: "0.6 s", "12 min 40 s", "2 h 5 min"; nothing below a thousandth, and no seconds beyond two hours. */
export function timeWords(seconds: number): string {
  if (seconds < 1e-3) return '0 s'
  if (seconds < 59.95) return `${Number(seconds.toPrecision(seconds < 10 ? 2 : 3))} s`
  const whole = Math.round(seconds)
  const [h, min, s] = [Math.floor(whole / 3600), Math.floor((whole % 3600) / 60), whole % 60]
  const words = [h > 0 ? `${h} h` : '', min > 0 ? `${min} min` : '', s > 0 && h < 2 ? `${s} s` : '']
  return words.filter((word) => word !== '').join(' ')
}
