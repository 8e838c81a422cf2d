import js from '@eslint/js';
import reactHooks from 'eslint-plugin-react-hooks';
import tseslint from 'typescript-eslint';

/** Rooms that take values and return values: no clock, no dice, no input or output. */
const pureRooms = [
  'server/biology/**',
  'server/words/**',
  'server/introduction/**',
  'server/signals/**',
  'server/rules/**',
  'ingest/decode/**',
];

/** Spread together, fields and entries read as if they came from elsewhere. */
const spreadLiteral = {
  selector:
    ':matches(ObjectExpression > SpreadElement > ObjectExpression, ArrayExpression > SpreadElement > ArrayExpression)',
  message: 'Write what it holds where it belongs, without spreading it.',
};

/** One way to keep a member to its class, which holds at run time, too. */
const privateWord = {
  selector: ':matches(PropertyDefinition, MethodDefinition)[accessibility="private"]',
  message: 'Name it #member.',
};

/** By its name zod brings its forty languages with it. */
const zodByName = {
  selector: "ImportDeclaration[source.value='zod'] > :not(ImportNamespaceSpecifier).specifiers",
  message: "Write: import * as z from 'zod'.",
};

export default tseslint.config(
  { ignores: ['dist/', 'node_modules/', 'coverage/', '.cache/', 'tests/**/fixtures/'] },
  js.configs.recommended,
  ...tseslint.configs.strict,
  {
    files: ['**/*.ts', '**/*.tsx'],
    languageOptions: {
      parserOptions: {
        project: ['./tsconfig.json', './dashboard/tsconfig.json'],
        tsconfigRootDir: import.meta.dirname,
      },
    },
    rules: {
      '@typescript-eslint/no-floating-promises': 'error',
      '@typescript-eslint/no-misused-promises': ['error', { checksVoidReturn: false }],
      '@typescript-eslint/switch-exhaustiveness-check': [
        'error',
        { considerDefaultExhaustiveForUnions: true },
      ],
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
      eqeqeq: ['error', 'always', { null: 'ignore' }],
      'no-restricted-syntax': ['error', spreadLiteral, privateWord, zodByName],
    },
  },
  {
    files: pureRooms.map((room) => `${room}/*.ts`),
    rules: {
      'no-restricted-properties': [
        'error',
        { object: 'Date', property: 'now', message: 'Pure room: take the instant as an argument.' },
        { object: 'Math', property: 'random', message: 'Pure room: take a seeded generator as an argument.' },
        { object: 'performance', property: 'now', message: 'Pure room: take the instant as an argument.' },
      ],
      'no-restricted-syntax': [
        'error',
        spreadLiteral,
        privateWord,
        zodByName,
        {
          selector: "NewExpression[callee.name='Date'][arguments.length=0]",
          message: 'Pure room: take the instant as an argument.',
        },
        {
          selector: "MemberExpression[object.name='Temporal'][property.name='Now']",
          message: 'Pure room: take the instant as an argument.',
        },
      ],
      'no-restricted-globals': ['error', 'process', 'setTimeout', 'setInterval', 'fetch'],
      'no-restricted-imports': ['error', { patterns: ['node:*'] }],
    },
  },
  {
    files: ['server/**/*.ts', 'ingest/**/*.ts', 'dashboard/**/*.ts', 'dashboard/**/*.tsx'],
    rules: { 'max-lines-per-function': ['error', { max: 80 }] },
  },
  {
    files: ['server/**/*.ts', 'ingest/**/*.ts'],
    rules: {
      // A method that is passed on without its object loses it.
      '@typescript-eslint/unbound-method': 'error',
    },
  },
  {
    files: ['dashboard/**/*.ts', 'dashboard/**/*.tsx'],
    plugins: { 'react-hooks': reactHooks },
    rules: { 'react-hooks/rules-of-hooks': 'error', 'react-hooks/exhaustive-deps': 'error' },
  },
  {
    files: ['tests/**/*.ts'],
    rules: { '@typescript-eslint/no-non-null-assertion': 'off' },
  },
  { files: ['**/*.js', '**/*.cjs'], languageOptions: { globals: { module: 'writable' } } },
);
