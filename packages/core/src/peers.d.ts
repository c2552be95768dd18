/** What the tests use of two other unit libraries, which bring no types. */
declare module 'unitmath' {
  interface PeerUnit {
    to(name: string): PeerUnit
    getValue(): number
  }
  export default function unit(value: number, name: string): PeerUnit
}

declare module 'js-quantities' {
  interface PeerQuantity {
    to(name: string): PeerQuantity
    scalar: number
  }
  export default function quantity(value: number, name: string): PeerQuantity
}
