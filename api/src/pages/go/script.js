// Lets a grower in with the link that the advisor sent, shows the sheets and says that they were seen.
"use strict";

const KEPT_AS = "dibble-session";
const place = document.querySelector("main");
const leave = document.getElementById("leave");
let session = kept();

function kept() {
    try {
        return JSON.parse(localStorage.getItem(KEPT_AS));
    } catch {
        return null;
    }
}

function keep(answer) {
    session = answer && { access: answer.access_token, refresh: answer.refresh_token };
    if (session) {
        localStorage.setItem(KEPT_AS, JSON.stringify(session));
    } else {
        localStorage.removeItem(KEPT_AS);
    }
}

// An element with text and children; text never becomes markup.
function make(name, settings, ...children) {
    const element = Object.assign(document.createElement(name), settings);
    element.append(...children);
    return element;
}

function button(words, kind, work) {
    const element = make("button", { type: "button", className: kind, textContent: words });
    element.addEventListener("click", async () => {
        element.disabled = true;
        try {
            await work();
        } catch (error) {
            element.closest("li, main").append(make("p", { className: "wrong", textContent: error.message }));
        }
        element.disabled = false;
    });
    return element;
}

class Answered extends Error {
    constructor(status, words) {
        super(words);
        this.status = status;
    }
}

async function send(path, settings = {}) {
    let answer;
    try {
        answer = await fetch(path, settings);
    } catch {
        throw new Answered(0, "The service can't be reached. Look at the connection and try again.");
    }
    if (!answer.ok) {
        const problem = await answer.json().catch(() => ({}));
        throw new Answered(answer.status, problem.detail ?? `The service answered ${answer.status}.`);
    }
    return answer;
}

const json = (method, body) => ({
    method, body: JSON.stringify(body), headers: { "content-type": "application/json" },
});

let refreshing = null;

// Once for all requests that wait for it: a refresh token works once.
function refresh() {
    refreshing ??= renew().finally(() => {
        refreshing = null;
    });
    return refreshing;
}

async function renew() {
    try {
        const answer = await send("/v1/sessions/refresh", json("POST", { refresh_token: session.refresh }));
        keep(await answer.json());
    } catch (error) {
        if (error.status >= 400 && error.status < 500 && error.status !== 429) {
            keep(null);
            show(make("p", { textContent: "You were signed out. Ask your advisor for a new link." }));
        }
        throw error;
    }
}

// A request of the grower; with a new access token where the old one ran out.
async function asked(path, settings = {}) {
    const once = () => send(path, {
        ...settings, headers: { ...settings.headers, authorization: `Bearer ${session.access}` },
    });
    try {
        return await once();
    } catch (error) {
        if (error.status !== 401) {
            throw error;
        }
        await refresh();
        return once();
    }
}

async function all(path) {
    const items = [];
    let cursor = "";
    do {
        const page = await (await asked(`${path}?limit=200${cursor}`)).json();
        items.push(...page.items);
        cursor = page.next_cursor ? `&cursor=${encodeURIComponent(page.next_cursor)}` : "";
    } while (cursor);
    return items;
}

function show(...elements) {
    leave.hidden = !session;
    place.replaceChildren(...elements);
}

const VERDICTS = { plant: "plant", wait: "wait", stop: "stop" };
const SEEN = { acknowledged: "You have said that you saw it.", issued: "New: not yet seen." };

async function open(sheet, under) {
    const there = under.querySelector("iframe");
    if (there) {
        there.remove();
        return;
    }
    const page = await (await asked(`/v1/recommendations/${sheet.id}/sheet`)).text();
    under.append(make("iframe", { title: "Settings sheet", sandbox: "allow-modals", srcdoc: page }));
}

async function fetchPaper(sheet) {
    const paper = await (await asked(`/v1/recommendations/${sheet.id}/sheet/pdf`)).blob();
    const address = URL.createObjectURL(paper);
    make("a", { href: address, download: "settings-sheet.pdf" }).click();
    setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

async function seen(sheet) {
    const now = await asked(`/v1/recommendations/${sheet.id}`);
    await asked(`/v1/recommendations/${sheet.id}/acknowledge`, {
        method: "POST", headers: { "if-match": now.headers.get("etag") },
    });
    await sheets();
}

function line(sheet, fields, planters) {
    const day = new Date(sheet.updated_at).toLocaleDateString(undefined, { day: "numeric", month: "long" });
    const verdict = VERDICTS[sheet.verdict] ?? sheet.verdict.replaceAll("_", " ");
    const item = make("li", {},
        make("h2", { textContent: fields.get(sheet.field_id) ?? "Field" }),
        make("p", { textContent: `${planters.get(sheet.planter_id) ?? "Planter"}, ${day}: ${verdict}.` }),
        make("p", { className: "quiet", textContent: SEEN[sheet.status] ?? "" }));
    const work = make("div", { className: "do" }, button("Show", "first", () => open(sheet, item)));
    work.append(button("As PDF", "", () => fetchPaper(sheet)));
    if (sheet.status === "issued") {
        work.append(button("I have seen it", "", () => seen(sheet)));
    }
    item.append(work);
    return item;
}

async function sheets() {
    const [found, fields, planters] = await Promise.all(
        ["/v1/recommendations", "/v1/fields", "/v1/planters"].map(all));
    const names = (items) => new Map(items.map((item) => [item.id, item.name]));
    const current = found.filter((sheet) => ["issued", "acknowledged"].includes(sheet.status)).reverse();
    if (current.length === 0) {
        show(make("p", { textContent: "There is no sheet for you yet. Your advisor will send one." }));
        return;
    }
    show(make("ul", {}, ...current.map((sheet) => line(sheet, names(fields), names(planters)))));
}

function door(link) {
    const enter = async () => {
        keep(await (await send("/v1/access-links/redeem", json("POST", { token: link }))).json());
        await sheets();
    };
    show(
        make("p", { textContent: "This link lets you in. It may work only once, so open it on the phone that you plant with." }),
        button("Open my sheets", "first", enter));
}

leave.addEventListener("click", async () => {
    await asked("/v1/sessions/present", { method: "DELETE" }).catch(() => undefined);
    keep(null);
    show(make("p", { textContent: "You are signed out on this device." }));
});

async function begin() {
    const link = decodeURIComponent(location.hash.slice(1));
    if (link) {
        // The secret leaves the address bar, and with it what is copied or photographed.
        history.replaceState(null, "", location.pathname);
        door(link);
    } else if (session) {
        await sheets();
    } else {
        show(make("p", { textContent: "You come in by the link that your advisor sent. It has run out? Ask for a new one." }));
    }
}

begin().catch((error) => show(make("p", { className: "wrong", textContent: error.message })));
