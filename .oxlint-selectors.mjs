/** Refuses what a selector of the syntax tree matches. */
const selectors = {
  meta: { schema: false },
  create: (context) =>
    Object.fromEntries(
      context.options.map(({ selector, message }) => [
        selector,
        (node) => {
          context.report({ node, message });
        },
      ]),
    ),
};

/** Under two names, so that the pure rooms add to what holds everywhere instead of saying it again. */
export default { meta: { name: 'house' }, rules: { syntax: selectors, pure: selectors } };
