// What the server puts before sw.js, and what go generate leaves beside the app.
declare const FILES: { [path: string]: string };
declare const VERSION: string;

// What an audio worklet has.
declare const sampleRate: number;
declare class AudioWorkletProcessor { readonly port: MessagePort }
declare function registerProcessor(name: string, processor: new () => AudioWorkletProcessor & { process(inputs: Float32Array[][]): boolean }): void;
