/** The pages in a real Chromium (Debian's chromium and chromedriver), on a daemon that runs. */
package tappet.bridge.browser;
