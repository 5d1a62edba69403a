// What the server puts before sw.js, and what go generate leaves beside the app.
declare const FILES: { [path: string]: string };
declare const VERSION: string;
