// What a reader does, in Firefox.
import { firefox } from "./firefox.js";
import { meet } from "./meet.js";

meet("Firefox", firefox);
