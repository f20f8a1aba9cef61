// What a reader does, in WebKit.
import { webkit } from "./webkit.js";
import { meet } from "./meet.js";

meet("WebKit", webkit);
