// The browser of the tests: Chromium without windows, or what the environment names.
export const executablePath = process.env.CHROMIUM ?? "/usr/bin/chromium-headless-shell";
