import type { Metadata, Viewport } from "next";
import type { ReactNode } from "react";
import "./style.css";

export const metadata: Metadata = {
  description: "Settles, days before attendance, how every protection of a vessel's generating sets will be proven.",
  robots: { index: false, follow: false },
};

export const viewport: Viewport = { width: "device-width", initialScale: 1, colorScheme: "light dark" };

// Every page is somebody's own: nothing is made ahead, and each answer has a nonce of its own.
export const dynamic = "force-dynamic";

const Layout = ({ children }: { readonly children: ReactNode }) => (
  <html lang="en">
    <body>
      <a className="skip" href="#main">
        Skip to the main part
      </a>
      {children}
    </body>
  </html>
);

export default Layout;
