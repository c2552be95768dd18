import type { Position } from '@halfsplit/core'
import type { IssueList } from './issues.js'

const LARGEST = 2e6

/**
 * Looks for what no description may contain, before it is read: too much text, characters that cannot be seen, and marks of a
 * wrong encoding. Each is reported once a line, so that a binary file does not drown the list.
 */
export function checkRawText(text: string, file: string, issues: IssueList): void {
  const start: Position = { file, line: 1, column: 1, length: 1 }
  if (text.length > LARGEST) {
    issues.add('FILE_TOO_LARGE', 'the description is too large', start, {
      expected: 'at most 2 million characters',
      received: `${text.length} characters`,
      fix: 'describe one system a file',
    })
    return
  }
  if (text.split('\n').every((line) => /^\s*(#|$)/.test(line))) {
    issues.add('FILE_EMPTY', 'the description is empty', start, { fix: 'begin with "halfsplit: 1" and a list of parts' })
    return
  }
  text.split('\n').forEach((line, i) => {
    const found = UNSEEN.exec(line)
    if (found) reportCharacter(found[0], { file, line: i + 1, column: found.index + 1, length: 1 }, issues)
  })
}

/** Control characters but tab and carriage return, marks of writing direction, half surrogates, and the sign for "not readable". */
const UNSEEN =
  // oxlint-disable-next-line no-control-regex
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u200b-\u200f\u202a-\u202e\u2066-\u2069\ufffd\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/

function reportCharacter(character: string, at: Position, issues: IssueList): void {
  const name = codePoint(character)
  if (character === '\ufffd') {
    const fix = 'save the file as UTF-8 and look at this line again'
    issues.add('NOT_UTF8', 'a character could not be read', at, { expected: 'text in UTF-8', received: name, fix })
  } else {
    issues.add('CONTROL_CHARACTER', 'a character here cannot be seen', at, {
      expected: 'letters, digits, signs and spaces',
      received: name,
      fix: 'delete it; was the file saved as UTF-8?',
    })
  }
}

/** "U+0000", as character tables name it. */
export function codePoint(character: string): string {
  const number = character.codePointAt(0) ?? 0
  return `U+${number.toString(16).toUpperCase().padStart(4, '0')}`
}
