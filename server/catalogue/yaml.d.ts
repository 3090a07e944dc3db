/** The catalogue's data files, turned into modules by the bundler and the test runner; their shapes stand in `data.ts`. */
declare module '*.yaml' {
  const data: unknown;
  export default data;
}
