import { defineConfig } from "vite";

// The page lies beside the program that serves it; the build of the program says where.
export default defineConfig({
  base: "./",
  build: {
    outDir: process.env["STICKWRIGHT_PAGE_DIR"] ?? "dist",
    emptyOutDir: true,
    target: "es2022",
    assetsInlineLimit: 0,
    chunkSizeWarningLimit: 900,
    license: { fileName: "licenses.md" }, // of what is packed into the page
  },
  // With `npx vite` the page is served here and asks a running `stickwright serve --port 8765`.
  server: {
    proxy: { "/api": { target: "http://127.0.0.1:8765", headers: { Origin: "http://127.0.0.1:8765" } } },
  },
});
