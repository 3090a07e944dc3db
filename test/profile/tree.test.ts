/** The tree of a YAML text against what the `yaml` package itself makes of the same text. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { parse, stringify } from 'yaml';
import { readTree, type Tree } from '../../server/profile/tree.js';

function plain(tree: Tree): unknown {
  if (tree.kind === 'list') return tree.items.map(plain);
  return tree.kind === 'map' ? Object.fromEntries(tree.entries.map(({ key, value }) => [key, plain(value)])) : tree.value;
}

const scalar = fc.oneof(fc.string(), fc.integer(), fc.boolean(), fc.constant(null), fc.constantFrom('2902', '0x180D', '12E5', 'a: b', '- x', '# c', 'a\nb', '', ' '));
const key = fc.stringMatching(/^[a-z_][a-z0-9_. ]{0,8}[a-z]$/);
const { value: anything } = fc.letrec((tie) => ({
  value: fc.oneof({ depthSize: 'small' }, scalar, fc.array(tie('value'), { maxLength: 4 }), fc.dictionary(key, tie('value'), { maxKeys: 4 })),
}));

it('holds the values that the yaml package reads', () => {
  fc.assert(fc.property(fc.dictionary(key, anything, { minKeys: 1, maxKeys: 5 }), fc.constantFrom(0, 20, 80), (value, lineWidth) => {
    const text = stringify(value, { lineWidth });
    const { tree, problems } = readTree(text);
    expect(problems).toEqual([]);
    expect(tree === undefined ? undefined : plain(tree)).toEqual(parse(text));
  }), { numRuns: 1000 });
});

it('knows the very text of every plain and quoted scalar', () => {
  const text = `a: 0x2902 # remark\nb: 'it''s'\nc: "x y"\nd: [12E5, 'q']\n? e\n: f\n`;
  const { tree } = readTree(text);
  const texts: string[] = [];
  const visit = (node: Tree): void => {
    if (node.kind === 'scalar') texts.push(`${node.text}|${text.slice(node.textAt.start, node.textAt.end)}|${text.slice(node.at.start, node.at.end)}`);
    else for (const child of node.kind === 'list' ? node.items : node.entries.map(({ value }) => value)) visit(child);
  };
  if (tree !== undefined) visit(tree);
  expect(texts).toEqual(['0x2902|0x2902|0x2902', "it's|'it''s'|'it''s'", 'x y|x y|"x y"', '12E5|12E5|12E5', "q|q|'q'", 'f|f|f']);
});
