/** Worst that can reasonably come of a hazard: death or lasting injury, an injury that heals, or broken parts alone. */
export type Harm = 'lasting' | 'passing' | 'damage'

/** What is common to all hazards of a title. */
export interface HazardWords {
  harm: Harm
  /** Who is in its reach: anybody at the machine, or whoever handles the part. */
  reach: 'machine' | 'part'
  /** What the part does when it begins, and while it goes on. */
  begins: string
  goesOn: string
  /** What it does to a person who is not kept away from it. */
  consequence: string
  /** It matters to a machine that is driven, not only to hands that work on it. */
  driving?: boolean
}

/** Hazards by their title. Harm and reach are our judgement; words of the bay. */
export const HAZARDS = {
  'starts by itself': {
    harm: 'lasting',
    reach: 'machine',
    begins: 'starts to turn',
    goesOn: 'turns',
    consequence: 'It catches hands, sleeves and leads.',
  },
  drives: {
    harm: 'lasting',
    reach: 'machine',
    begins: 'takes hold of what it drives',
    goesOn: 'drives',
    consequence: 'With the engine running that catches hands, sleeves and leads.',
  },
  cranks: {
    harm: 'lasting',
    reach: 'machine',
    begins: 'cranks the engine',
    goesOn: 'cranks the engine',
    consequence: 'The engine can fire and the machine move off.',
    driving: true,
  },
  'moving parts': {
    harm: 'lasting',
    reach: 'machine',
    begins: 'begins to move',
    goesOn: 'moves',
    consequence: 'It crushes what is in its way.',
    driving: true,
  },
  falls: {
    harm: 'lasting',
    reach: 'machine',
    begins: 'comes down',
    goesOn: 'comes down',
    consequence: 'It crushes whoever is under it.',
    driving: true,
  },
  brakes: {
    harm: 'lasting',
    reach: 'machine',
    begins: 'lets the spring brakes go',
    goesOn: 'holds the spring brakes off',
    consequence: 'A machine that is not chocked rolls.',
    driving: true,
  },
  blows: {
    harm: 'passing',
    reach: 'machine',
    begins: 'blows',
    goesOn: 'blows',
    consequence: 'Air and grit hit eyes and ears.',
  },
  overheats: {
    harm: 'damage',
    reach: 'machine',
    begins: 'boils',
    goesOn: 'boils',
    consequence: 'Head and gasket are ruined.',
    driving: true,
  },
  pressure: {
    harm: 'lasting',
    reach: 'part',
    begins: 'comes under pressure',
    goesOn: 'is under pressure',
    consequence: 'What is opened whips or sprays.',
  },
  springs: {
    harm: 'lasting',
    reach: 'part',
    begins: 'holds a spring',
    goesOn: 'holds a spring',
    consequence: 'A spring let loose kills.',
  },
  hot: { harm: 'passing', reach: 'part', begins: 'gets hot', goesOn: 'is hot', consequence: 'It burns.' },
  sparks: {
    harm: 'lasting',
    reach: 'part',
    begins: 'comes live',
    goesOn: 'is live',
    consequence: 'A tool across it melts and burns.',
  },
  'explosive gas': {
    harm: 'lasting',
    reach: 'part',
    begins: 'gives off gas',
    goesOn: 'gives off gas',
    consequence: 'A spark blows it up.',
  },
  fire: { harm: 'lasting', reach: 'part', begins: 'glows', goesOn: 'glows', consequence: 'Vapour catches fire.' },
} as const satisfies Record<string, HazardWords>

export type HazardTitle = keyof typeof HAZARDS

/** What is common to all hazards of a title. */
export const hazardWords = (title: HazardTitle): HazardWords => HAZARDS[title]

/** Worst that can come of a hazard: its own where it says so, else that of its title. */
export const harmOf = ({ title, harm }: { title: HazardTitle; harm?: Harm }): Harm => harm ?? HAZARDS[title].harm
