"use client";

/** Something went wrong in the program: what was saved stays saved, and the person is told so. */
const ErrorPage = () => (
  <main id="main">
    <h1>Something went wrong in the program</h1>
    <p>
      What was saved is kept, and what you typed on the last page is kept as far as it was sent. Go back and try again; if it stays, tell
      whoever runs this office.
    </p>
    <p>
      <a href="/visits">All visits</a>
    </p>
  </main>
);

export default ErrorPage;
