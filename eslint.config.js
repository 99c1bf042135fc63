// The rules that find mistakes; how a line is laid out is the writer's business.
import js from "@eslint/js";

export default [
  js.configs.recommended,
  {
    files: ["static/js/*.js", "tests/js/*.js"],
    languageOptions: { ecmaVersion: 2023, sourceType: "module" },
    linterOptions: { reportUnusedDisableDirectives: "error" },
    rules: {
      "no-undef": "off", // the type checker knows every name
      "no-var": "error",
      "prefer-const": "error",
      eqeqeq: "error",
      curly: ["error", "multi-line"],
      "no-implicit-coercion": "error",
      "no-eval": "error",
      "no-implied-eval": "error",
      "no-shadow": "error",
      "object-shorthand": "error",
      "prefer-template": "error",
      "prefer-arrow-callback": "error",
      "max-lines": ["error", 300],
      "max-len": ["error", { code: 140 }],
      complexity: ["error", 15],
    },
  },
  { files: ["static/js/*_worker.js", "static/js/worker_base.js"], languageOptions: { sourceType: "script" } },
];
