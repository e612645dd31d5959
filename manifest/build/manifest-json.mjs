/** The unified (JSON) manifest. */
import {
  ACCENT,
  APP_ICON_SIZES,
  CELL_COMMAND,
  COMMAND_ICON_SIZES,
  COMMANDS,
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
  const about = (part) => at(`${FILES.about}#${part}`);

  const described = ({ action, label, tip }) => ({
    label,
    supertip: { title: label, description: tip },
    actionId: action,
  });
  const button = (command) => ({
    id: `${command.action}Button`,
    type: "button",
    icons: icons(command.icon),
    ...described(command),
  });
  // On a cell's menu the schema asks for a menu, which holds the command; only the XML form may put a button there.
  const cellMenu = {
    id: "cellMenu",
    type: "menu",
    label: GROUP.label,
    icons: icons("icon"),
    supertip: { title: GROUP.label, description: CELL_COMMAND.tip },
    items: [
      {
        id: `${CELL_COMMAND.action}Item`,
        type: "menuItem",
        icons: icons(CELL_COMMAND.icon),
        ...described(CELL_COMMAND),
      },
    ],
  };

  const runtime = {
    id: "shared",
    type: "general",
    lifetime: "long",
    code: { page: at(page), script: at(FILES.script) },
    actions: COMMANDS.map(({ action, label }) => ({ id: action, type: "executeFunction", displayName: label })),
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
      websiteUrl: about("help"),
      privacyUrl: about("privacy"),
      termsOfUseUrl: about("terms"),
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
                  { id: GROUP.id, label: GROUP.label, icons: icons("icon"), controls: GROUP.commands.map(button) },
                ],
              },
            ],
          },
        ],
        contextMenus: [{ menus: [{ entryPoint: "cell", controls: [cellMenu] }] }],
        getStartedMessages: [
          { title: WELCOME.title, description: WELCOME.text(namespace), learnMoreUrl: about("help") },
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
