// The form of reference/circuits (`dc-network/1`) as a network and faults of ours.

const linear = (ohm) => ({ law: 'linear', g: 1 / ohm })

function element({ id, kind, a, b, ...of }) {
  if (kind === 'resistor') return { type: 'law', id, a, b, law: linear(of.ohm) }
  if (kind === 'voltage_source') return { type: 'across', id, a, b, value: of.volt, resistance: 0 }
  if (kind === 'contact') return { type: 'gate', id, a, b, on: linear(of.closed_ohm), off: linear(of.open_ohm), signal: id }
  if (kind === 'filament') {
    return { type: 'law', id, a, b, law: { law: 'filament', cold: of.cold_ohm, knee: of.knee_volt, exponent: of.exponent } }
  }
  throw new Error(`no primitive for the kind '${kind}'`)
}

export function toNetwork({ nodes, elements }) {
  const signals = elements
    .filter(({ kind }) => kind === 'contact')
    .map(({ id, coil, pull_in_volt: rise, drop_out_volt: fall = rise }) => {
      const { a, b } = elements.find((other) => other.id === coil)
      return { type: 'threshold', id, a, b, scale: 1, rise, fall }
    })
  return {
    nodes: nodes.map((id) => ({ id, domain: 'electrical', insulation: 0, rest: 0 })),
    elements: elements.map(element),
    signals,
  }
}

export function toFaults({ elements, faults }) {
  const position = new Map(elements.map(({ id }, n) => [id, n]))
  return faults.map(({ id, element: name, ohm }) => {
    const at = position.get(name)
    return { id, changes: [{ position: at, element: element({ ...elements[at], ohm }) }] }
  })
}
