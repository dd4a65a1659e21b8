import { Page } from "../components/frame/Page.tsx";

const NotFound = () => (
  <Page title="There is no such page" person={null} token="">
    <p>The address may be mistyped, the visit may be somebody else's, or the page was taken away.</p>
    <p>
      <a href="/visits">All visits</a>
    </p>
  </Page>
);

export default NotFound;
