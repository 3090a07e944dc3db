/** Every rule's page in Markdown by the rule's id, put in by the bundler (`client/pages-module.mjs`). */
declare module 'linkwright:pages' {
  const pages: Readonly<Record<string, string>>;
  export default pages;
}
