/**
 * What people ask and see. In: sentences and questions over HTTP, on this machine only unless the
 * owner says otherwise. Out: answers as text, and a live stream of frames and changes. Everything
 * is asked of the box; nothing here decides anything.
 */
package tappet.bridge.web;
