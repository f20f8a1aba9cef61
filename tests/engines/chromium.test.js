// What a reader does, in Chromium.
import { chromium } from "./chromium.js";
import { meet } from "./meet.js";

meet("Chromium", chromium);
