// A passkey is made or used: the form's button asks the server for a question, the device answers
// it, and the form is sent with the answer. Without passkeys in the browser the form stays hidden.
import { all, need, needed } from "./dom.js";

/** @typedef {{id: string, type: "public-key"}} Named a key as JSON has it */
/**
 * @typedef {{challenge: string, timeout: number, rpId: string, rp: PublicKeyCredentialRpEntity,
 *   user: {id: string, name: string, displayName: string}, userVerification: UserVerificationRequirement,
 *   pubKeyCredParams: PublicKeyCredentialParameters[], excludeCredentials: Named[],
 *   attestation: AttestationConveyancePreference,
 *   authenticatorSelection: AuthenticatorSelectionCriteria}} Question
 */

/** @param {string} text in base64url */
const bytes = (text) =>
  Uint8Array.from(atob(text.replaceAll("-", "+").replaceAll("_", "/")), (letter) => letter.charCodeAt(0));

/** @param {ArrayBuffer | null} raw @returns {string} in base64url */
const base64url = (raw) =>
  btoa(String.fromCharCode(...new Uint8Array(raw ?? new ArrayBuffer(0))))
    .replaceAll("+", "-")
    .replaceAll("/", "_")
    .replaceAll("=", "");

/** @param {Question} asked */
const make = (asked) =>
  navigator.credentials.create({
    publicKey: {
      ...asked,
      challenge: bytes(asked.challenge),
      user: { ...asked.user, id: bytes(asked.user.id) },
      excludeCredentials: asked.excludeCredentials.map((key) => ({ ...key, id: bytes(key.id) })),
    },
  });

/** @param {Question} asked */
const use = (asked) =>
  navigator.credentials.get({
    publicKey: {
      challenge: bytes(asked.challenge),
      timeout: asked.timeout,
      rpId: asked.rpId,
      userVerification: asked.userVerification,
    },
  });

/** @param {AuthenticatorResponse} answer */
const answered = (answer) => {
  const clientDataJSON = base64url(answer.clientDataJSON);
  if (answer instanceof AuthenticatorAttestationResponse) {
    return { clientDataJSON, attestationObject: base64url(answer.attestationObject) };
  }
  if (!(answer instanceof AuthenticatorAssertionResponse)) throw new TypeError("no answer of a passkey");
  return {
    clientDataJSON,
    authenticatorData: base64url(answer.authenticatorData),
    signature: base64url(answer.signature),
    userHandle: answer.userHandle && base64url(answer.userHandle),
  };
};

/** @param {HTMLFormElement} form @returns {Promise<string | null>} null: the page has to be asked for anew */
const said = async (form) => {
  const body = new URLSearchParams({ csrfmiddlewaretoken: needed(form, "[name=csrfmiddlewaretoken]", HTMLInputElement).value });
  const response = await fetch(form.dataset.ask ?? "", { method: "POST", body });
  if (!response.headers.get("Content-Type")?.startsWith("application/json")) return null;
  const question = await response.json();
  const key = await (form.dataset.passkey === "make" ? make(question) : use(question));
  if (!(key instanceof PublicKeyCredential)) throw new TypeError("no passkey");
  return JSON.stringify({ id: key.id, rawId: base64url(key.rawId), type: key.type, response: answered(key.response) });
};

/** @param {HTMLFormElement} form @param {unknown} fault */
const tell = (form, fault) => {
  const kind = fault instanceof DOMException ? fault.name : "";
  const { left, known, failed } = form.dataset;
  const place = need(form, "[data-fault]");
  place.textContent = (kind === "NotAllowedError" ? left : kind === "InvalidStateError" ? known : failed) ?? "";
  place.hidden = false;
};

/** @param {HTMLFormElement} form */
const send = async (form) => {
  const button = needed(form, "button", HTMLButtonElement);
  if (button.disabled) return;
  button.disabled = true;
  need(form, "[data-fault]").hidden = true;
  try {
    const answer = await said(form);
    if (answer === null) return location.reload();
    needed(form, "[name=said]", HTMLInputElement).value = answer;
    form.submit();
  } catch (fault) {
    tell(form, fault);
    button.disabled = false;
    button.focus();
  }
};

const setUp = () => {
  const able = "PublicKeyCredential" in window;
  for (const place of all(document, "[data-without-passkeys]")) place.hidden = able;
  for (const form of all(document, "form[data-passkey]")) {
    if (!(form instanceof HTMLFormElement)) continue;
    form.hidden = !able;
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      send(form);
    });
  }
};

// After a step back the page stands as it was left, its button pressed.
window.addEventListener("pageshow", (event) => {
  if (event.persisted) location.reload();
});
setUp();
