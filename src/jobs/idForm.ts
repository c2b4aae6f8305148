/** What an id of a job looks like, in every store. Without anything of Node, since the page of the service is checked against it too. */

/** Of this form alone; anything else is no job of ours. */
export const ID = /^[0-9a-z]{9}[0-9a-f]{24}$/;
