export { announcement } from './announce.ts';
export { type Example, readExamples, seedExamples } from './examples.ts';
export { type MqttSettings, readMqttSettings } from './probes/settings.ts';
export { type NotStarted, type RunningServer, type ServerOptions, startServer } from './server.ts';
