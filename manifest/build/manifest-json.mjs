/** The unified (JSON) manifest. */
import {
  ACCENT,
  ADDIN_COMMANDS,
  APP_ICON_SIZES,
  CELL_MENU,
  COMMAND_ICON_SIZES,
  DESCRIPTION,
  FILES,
  GROUP,
  iconFile,
  LOCALE,
  PACKAGE_ICONS,
  PROVIDER,
  REQUIREMENTS,
  SUMMARY,
  WELCOME,
} from "../facts.mjs";

// The oldest schema that knows both `metadataUrl` (1.24) and the pick lists in that metadata (1.25).
const SCHEMA = "1.25";

export function jsonManifest({ id, name, namespace, page, version, host }) {
  const at = (file) => `${host}/${file}`;
  const icon = (name, size) => ({ size, url: at(iconFile(name, size)) });
  const icons = (name) => COMMAND_ICON_SIZES.map((size) => icon(name, size));

  const described = ({ action, label, tip }) => ({
    label,
    supertip: { title: label, description: tip },
    actionId: action,
  });
  const control = (type, end) => (command) => ({
    id: `${command.action}${end}`,
    type,
    icons: icons(command.icon),
    ...described(command),
  });
  const cellMenu = {
    id: CELL_MENU.id,
    type: "menu",
    label: name,
    icons: icons("icon"),
    supertip: { title: name, description: CELL_MENU.tip },
    items: CELL_MENU.commands.map(control("menuItem", "Item")),
  };

  const runtime = {
    id: "shared",
    type: "general",
    lifetime: "long",
    code: { page: at(page), script: at(FILES.script) },
    actions: ADDIN_COMMANDS.map(({ action, opensPane, label }) => ({
      id: action,
      displayName: label,
      ...(opensPane ? { type: "openPage", view: "pane" } : { type: "executeFunction" }),
    })),
    customFunctions: {
      namespace: { id: namespace, name: namespace },
      metadataUrl: at(FILES.metadata),
    },
  };

  const manifest = {
    $schema: `https://developer.microsoft.com/json-schemas/teams/v${SCHEMA}/MicrosoftTeams.schema.json`,
    manifestVersion: SCHEMA,
    id,
    version,
    name: { short: name },
    description: { short: SUMMARY, full: DESCRIPTION },
    developer: {
      name: PROVIDER,
      websiteUrl: at(FILES.about),
      privacyUrl: at(FILES.privacy),
      termsOfUseUrl: at(FILES.terms),
    },
    localizationInfo: { defaultLanguageTag: LOCALE.toLowerCase() },
    icons: PACKAGE_ICONS,
    accentColor: ACCENT,
    validDomains: [new URL(host).host],
    authorization: {
      permissions: { resourceSpecific: [{ name: "Document.ReadWrite.User", type: "Delegated" }] },
    },
    extensions: [
      {
        requirements: {
          scopes: ["workbook"],
          capabilities: REQUIREMENTS.map(({ name, version }) => ({ name, minVersion: version })),
        },
        runtimes: [runtime],
        ribbons: [
          {
            contexts: ["default"],
            tabs: [
              {
                builtInTabId: "TabHome",
                groups: [
                  {
                    id: GROUP.id,
                    label: name,
                    icons: icons("icon"),
                    controls: GROUP.commands.map(control("button", "Button")),
                  },
                ],
              },
            ],
          },
        ],
        contextMenus: [{ menus: [{ entryPoint: "cell", controls: [cellMenu] }] }],
        getStartedMessages: [
          { title: WELCOME.title, description: WELCOME.text(namespace), learnMoreUrl: at(FILES.support) },
        ],
        alternates: [
          {
            alternateIcons: {
              icon: icon("icon", APP_ICON_SIZES[1]),
              highResolutionIcon: icon("icon", APP_ICON_SIZES[2]),
            },
          },
        ],
      },
    ],
  };
  return `${JSON.stringify(manifest, null, 2)}\n`;
}
