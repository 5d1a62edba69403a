// Which version of the app is kept here and which one the server has.

import { hasServer } from "../kept/server.js";
import { appURL, canWorkOffline, timeLimit } from "../kit/platform.js";

/** versions asks both; what does not answer says so. */
export async function versions() {
	const [here, server] = await Promise.all([workerVersion(), serverVersion()]);
	return { here, server };
}

async function serverVersion() {
	try {
		const response = await fetch(appURL(hasServer() ? "api/v1/status" : "site.json"), {
			cache: "no-store",
			signal: timeLimit(4_000),
		});
		const { version } = await response.json();
		return String(version);
	} catch {
		return "does not answer just now";
	}
}

/** @returns {Promise<string>} */
function workerVersion() {
	const controller = canWorkOffline ? navigator.serviceWorker.controller : null;
	if (!controller) return Promise.resolve("none: this page came over the network");
	return new Promise((resolve) => {
		const listener = (/** @type {MessageEvent} */ event) => {
			if (!event.data?.version) return;
			navigator.serviceWorker.removeEventListener("message", listener);
			resolve(String(event.data.version));
		};
		navigator.serviceWorker.addEventListener("message", listener);
		controller.postMessage("version");
		setTimeout(() => resolve("did not say"), 2_000);
	});
}
