/** The arrows between the rooms, and the few purity rules that follow from them. */
const onlyFrom = (name, comment, from, allowed) => ({
  name,
  comment,
  severity: 'error',
  from: { path: from },
  to: { pathNot: allowed },
});

module.exports = {
  forbidden: [
    { name: 'no-circular', severity: 'error', from: {}, to: { circular: true } },
    onlyFrom(
      'controller-stands-alone',
      'controller/ imports nothing outside itself but xstate',
      '^controller/',
      '^(controller/|node_modules/xstate/)',
    ),
    onlyFrom(
      'sim-knows-only-signals',
      'sim/ may know the signals of the rig contract, nothing else of the product',
      '^sim/',
      '^(sim/|controller/signals\\.ts$|node_modules/pure-rand/)',
    ),
    onlyFrom(
      'hardware-knows-only-signals',
      'hardware/ may know the signals of the rig contract, nothing else of the product',
      '^hardware/',
      '^(hardware/|controller/signals\\.ts$|node_modules/|node:|fs$)',
    ),
    {
      name: 'product-never-imports-tests',
      severity: 'error',
      from: { path: '^(app|controller|hardware|sim)/' },
      to: { path: '^tests/' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'node', 'default'] },
  },
};
