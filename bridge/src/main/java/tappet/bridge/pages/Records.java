package tappet.bridge.pages;

import tappet.bridge.view.Diary;
import tappet.bridge.view.NewsBook;

/** What has been seen, and what has happened. On the event loop of the pages. */
record Records(Diary diary, NewsBook news) {}
