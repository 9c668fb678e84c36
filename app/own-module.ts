// The same module beside another, in the checkout as TypeScript and in the published package as JavaScript.

/**
 * @param name of the file, without its ending.
 * @param from `import.meta.url` of the module that it lies beside.
 */
export const ownModule = (name: string, from: string): URL =>
  new URL(`./${name}${from.endsWith('.ts') ? '.ts' : '.js'}`, from);
